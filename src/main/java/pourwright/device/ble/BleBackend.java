package pourwright.device.ble;

import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;
import pourwright.device.ble.bluez.BluezCentral;
import pourwright.device.ble.gatt.GattCentral;
import pourwright.device.ble.gatt.GattFailure;

/** The ways to the system's Bluetooth. */
public enum BleBackend {
  /** BlueZ over D-Bus, in Java alone; the usual one. */
  BLUEZ {
    @Override
    GattCentral open(GattCentral.Listener listener) throws GattFailure {
      return BluezCentral.open(listener);
    }
  };

  /**
   * Joins the system's Bluetooth this way.
   *
   * @throws GattFailure when it can't be; one plain clause
   */
  abstract GattCentral open(GattCentral.Listener listener) throws GattFailure;

  /** As written on the command line. */
  public String word() {
    return name().toLowerCase(Locale.ROOT);
  }

  public static Optional<BleBackend> findByWord(String word) {
    return Arrays.stream(values()).filter(backend -> backend.word().equals(word)).findFirst();
  }
}
