package pourwright.cli;

import java.util.Optional;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;
import pourwright.device.ble.BleBackend;

/** How Bluetooth is reached. */
final class BluetoothOptions {
  @Option(
      names = "--radio",
      paramLabel = "NAME",
      description = "Which Bluetooth radio to use, such as hci0. Else the first that is on.")
  private @Nullable String radio;

  @Option(
      names = "--ble-backend",
      paramLabel = "NAME",
      defaultValue = "bluez",
      description =
          "How Bluetooth is reached: bluez (over the message bus) or tinyb (a native library, "
              + "for trials only: it can end the program, and got no weight from BlueZ 5.66; "
              + "x86-64 and ARMv6). Default: bluez.")
  private BleBackend backend = BleBackend.BLUEZ;

  /** The system's name of the radio, where one is asked for. */
  Optional<String> radio() {
    return Optional.ofNullable(radio);
  }

  BleBackend backend() {
    return backend;
  }
}
