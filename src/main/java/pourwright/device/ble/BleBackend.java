package pourwright.device.ble;

import java.util.Locale;
import pourwright.device.ble.bluez.BluezCentral;
import pourwright.device.ble.gatt.GattCentral;
import pourwright.device.ble.gatt.GattFailure;
import pourwright.device.ble.tinyb.TinybCentral;

/** The ways to the system's Bluetooth. */
public enum BleBackend {
  /** BlueZ over D-Bus, in Java alone; the usual one. */
  BLUEZ {
    @Override
    GattCentral open(GattCentral.Listener listener) throws GattFailure {
      return BluezCentral.open(listener);
    }
  },
  /** BlueZ by the native TinyB library; for comparison, not for the stage. */
  TINYB {
    @Override
    GattCentral open(GattCentral.Listener listener) throws GattFailure {
      return TinybCentral.open(listener);
    }
  };

  /**
   * Joins the system's Bluetooth this way.
   *
   * @throws GattFailure when it can't be; one plain clause
   */
  abstract GattCentral open(GattCentral.Listener listener) throws GattFailure;

  /** As written on the command line. */
  @Override
  public String toString() {
    return name().toLowerCase(Locale.ROOT);
  }
}
