package pourwright.device.ble.gatt;

import pourwright.device.Bytes;

/** What the system's Bluetooth says by itself. */
public sealed interface GattEvent {
  /** An adapter came or was switched; told once for each adapter at the beginning. */
  record AdapterChanged(Adapter adapter) implements GattEvent {}

  /** An adapter was taken out. */
  record AdapterGone(String name) implements GattEvent {}

  /** A device was heard, or something about it changed. */
  record Sighted(Sighting sighting) implements GattEvent {}

  /** A connection came up. */
  record Connected(Peripheral peripheral) implements GattEvent {}

  /** A connection ended. */
  record Disconnected(Peripheral peripheral) implements GattEvent {}

  /** The characteristics of a connected device are known, or known anew. */
  record Resolved(Peripheral peripheral) implements GattEvent {}

  /** Characteristics of a connected device are no longer there; subscriptions to them are void. */
  record Unresolved(Peripheral peripheral) implements GattEvent {}

  /** A characteristic sent a value. Values of one characteristic come in the order sent. */
  record Notified(Characteristic from, Bytes value) implements GattEvent {}

  /** The system's Bluetooth service stopped; everything known of it is void. */
  record StackGone() implements GattEvent {}

  /** The computer woke from sleep. */
  record Woke() implements GattEvent {}
}
