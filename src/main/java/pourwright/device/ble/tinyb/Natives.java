package pourwright.device.ble.tinyb;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import pourwright.device.ble.gatt.GattFailure;
import tinyb.BluetoothManager;

/** Brings TinyB's native libraries, which travel in its jar, into this process. */
final class Natives {
  /** The second needs the first. */
  private static final List<String> LIBRARIES = List.of("libtinyb.so", "libjavatinyb.so");

  private static final List<String> LOOKING =
      List.of("tinyb.BluetoothManager", "tinyb.BluetoothObject");

  private static boolean isLoaded; // under the class's lock

  private Natives() {}

  static synchronized void load() throws GattFailure {
    if (isLoaded) {
      return;
    }
    String folder = folder();
    try {
      Path place = Files.createTempDirectory("tinyb");
      for (String library : LIBRARIES) {
        Path copy = place.resolve(library);
        try (InputStream in =
            BluetoothManager.class.getClassLoader().getResourceAsStream(folder + library)) {
          if (in == null) {
            throw new GattFailure("TinyB has no native library for this machine; use bluez");
          }
          Files.copy(in, copy);
        }
        System.load(copy.toString());
        Files.delete(copy);
      }
      Files.delete(place);
    } catch (IOException e) {
      throw new GattFailure("TinyB's native libraries cannot be unpacked: " + e.getMessage(), e);
    } catch (UnsatisfiedLinkError e) {
      throw new GattFailure("TinyB's native libraries do not load; it needs GLib, or use bluez", e);
    }
    wakeClasses();
    isLoaded = true;
  }

  /**
   * TinyB's classes look for the libraries once more by a path that does not hold them, and
   * complain on the terminal, though they are there already.
   */
  private static void wakeClasses() throws GattFailure {
    PrintStream terminal = System.err;
    System.setErr(new PrintStream(OutputStream.nullOutputStream()));
    try {
      for (String looking : LOOKING) {
        Class.forName(looking);
      }
    } catch (ClassNotFoundException e) {
      throw new GattFailure("TinyB is not part of this program", e);
    } finally {
      System.setErr(terminal);
    }
  }

  private static String folder() throws GattFailure {
    String machine = System.getProperty("os.arch", "").toLowerCase(Locale.ROOT);
    return switch (machine) {
      case "amd64", "x86_64" -> "native/linux/x86_64/";
      case "i386", "x86" -> "native/linux/x86_32/";
      case "arm" -> "native/arm/armv6/";
      default -> throw new GattFailure("TinyB does not run on " + machine + "; use bluez");
    };
  }
}
