package pourwright.device.ble;

import java.util.List;
import java.util.Optional;
import pourwright.device.ble.gatt.Adapter;
import pourwright.device.ble.gatt.GattFailure;

/** The radios of this computer. */
final class Radios {
  private Radios() {}

  /**
   * Makes sure that there is one to wait for, on or off.
   *
   * @param wanted the system's name of the one to use; empty takes any
   * @throws GattFailure when there is none; one plain clause
   */
  static void check(List<Adapter> there, Optional<String> wanted) throws GattFailure {
    if (there.isEmpty()) {
      throw new GattFailure("this computer has no Bluetooth radio; plug one in, or use a cable");
    }
    if (wanted.isPresent() && there.stream().noneMatch(one -> one.name().equals(wanted.get()))) {
      throw new GattFailure(
          "there is no Bluetooth radio "
              + wanted.get()
              + "; there is "
              + String.join(", ", there.stream().map(Adapter::name).toList()));
    }
  }
}
