package pourwright.device.ble.link;

import pourwright.device.ble.gatt.Peripheral;

/** What a link asks of the system's Bluetooth. */
public sealed interface LinkOrder {
  /** Look for devices, afresh. */
  record Search(String adapter) implements LinkOrder {}

  /** Stop looking, then connect. */
  record Connect(Peripheral peripheral) implements LinkOrder {}

  /** Say whether the profile's characteristic is known by now. */
  record Inspect(Peripheral peripheral) implements LinkOrder {}

  /** Subscribe to weights and battery, and tell the scale to start where it needs telling. */
  record Subscribe(Peripheral peripheral) implements LinkOrder {}

  /** Give the subscription up and take it anew, and tell the scale to start again. */
  record Renew(Peripheral peripheral) implements LinkOrder {}

  /** End the connection, or the attempt at one. */
  record Disconnect(Peripheral peripheral) implements LinkOrder {}
}
