package pourwright.device.ble.link;

import pourwright.device.ble.gatt.Peripheral;
import pourwright.device.ble.gatt.Sighting;

/** What a link reacts to. */
public sealed interface LinkEvent {
  /** There is a radio that is switched on, and it is the one to use. */
  record RadioOn(String adapter) implements LinkEvent {}

  /**
   * There is no radio to use.
   *
   * @param why one plain clause
   */
  record RadioOff(String why) implements LinkEvent {}

  /** A device was heard. */
  record Sighted(Sighting sighting) implements LinkEvent {}

  /** A connection came up, whoever asked for it. */
  record Connected(Peripheral peripheral) implements LinkEvent {}

  /** A connection ended. */
  record Disconnected(Peripheral peripheral) implements LinkEvent {}

  /** What the device offers is known, and the profile's characteristic is among it. */
  record Ready(Peripheral peripheral) implements LinkEvent {}

  /** What the device offers is known, but the profile's characteristic is not among it. */
  record Unfit(Peripheral peripheral) implements LinkEvent {}

  /** The profile's characteristic went away while the connection stayed. */
  record Withdrawn(Peripheral peripheral) implements LinkEvent {}

  /** The scale sent a value. */
  record Heard(Peripheral peripheral) implements LinkEvent {}

  /** What the present state asked for was done. */
  record Done() implements LinkEvent {}

  /**
   * What the present state asked for was refused.
   *
   * @param why one plain clause
   */
  record Failed(String why) implements LinkEvent {}

  /** The computer woke from sleep. */
  record Woke() implements LinkEvent {}

  /** Time passed. */
  record Tick() implements LinkEvent {}
}
