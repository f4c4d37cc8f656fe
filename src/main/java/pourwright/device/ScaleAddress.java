package pourwright.device;

import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.regex.Pattern;
import pourwright.device.LineSettings.FlowControl;
import pourwright.device.LineSettings.Parity;

/** Where a scale is found, as written after {@code --scale}. */
public sealed interface ScaleAddress {

  /**
   * A serial port.
   *
   * @param port the path or name of the port
   * @param profile name of the profile that reads it
   * @param change line settings that differ from the profile's
   */
  record Serial(String port, String profile, LineChange change) implements ScaleAddress {}

  /**
   * A Bluetooth LE peripheral.
   *
   * @param device its address in capitals, or empty for the strongest that fits the profile
   * @param profile name of the profile that reads it
   */
  record Ble(Optional<String> device, String profile) implements ScaleAddress {}

  /**
   * A kept trace or raw stream.
   *
   * @param file path of the file
   * @param speed times as fast as it was; 0 as fast as it goes
   */
  record Replay(String file, double speed) implements ScaleAddress {}

  /**
   * The built-in simulated brewer, rig and scale.
   *
   * @param name which one
   * @param seed the same seed brews the same run
   * @param speed times as fast as life; 0 as fast as it goes
   * @param profile whose bytes the simulated scale speaks, where stated
   */
  record Sim(String name, long seed, double speed, Optional<String> profile)
      implements ScaleAddress {}

  /**
   * Reads an address.
   *
   * @throws IllegalArgumentException when it is none; the message is one plain sentence that says
   *     what would be right
   */
  static ScaleAddress parse(String text) {
    int colon = text.indexOf(':');
    String kind = colon < 0 ? text : text.substring(0, colon);
    String rest = colon < 0 ? "" : text.substring(colon + 1);
    int mark = rest.indexOf('?');
    String body = Parts.unescaped(mark < 0 ? rest : rest.substring(0, mark));
    Parts parts = Parts.of(text, mark < 0 ? "" : rest.substring(mark + 1));
    ScaleAddress address =
        switch (kind) {
          case "serial" -> serial(body, parts);
          case "ble" -> ble(body, parts);
          case "replay" ->
              new Replay(
                  parts.body(body, "the file to play: replay:FILE"),
                  parts.take("speed", 1.0, Parts::speed));
          case "sim" ->
              new Sim(
                  parts.body(body, "which one: sim:NAME"),
                  parts.take("seed", 7L, Parts::seed),
                  parts.take("speed", 1.0, Parts::speed),
                  parts.find("profile"));
          default ->
              throw new IllegalArgumentException(
                  "no scale address: '"
                      + text
                      + "'; it begins with serial:, ble:, replay: or sim:,"
                      + " for example serial:/dev/ttyUSB0?profile=number-unit");
        };
    parts.refuseRest();
    return address;
  }

  private static Serial serial(String port, Parts parts) {
    parts.body(port, "the port: serial:/dev/ttyUSB0?profile=NAME");
    return new Serial(
        port,
        parts.profile(),
        new LineChange(
            parts.find("baud", word -> Parts.within(word, 50, 4_000_000)),
            parts.find("bits", word -> Parts.within(word, 5, 8)),
            parts.find("parity", word -> Parts.oneOf(word, Parity.values())),
            parts.find("stop", word -> Parts.within(word, 1, 2)),
            parts.find("flow", word -> Parts.oneOf(word, FlowControl.values()))));
  }

  private static Ble ble(String device, Parts parts) {
    if (!device.isEmpty() && !Parts.BLE_DEVICE.matcher(device).matches()) {
      throw new IllegalArgumentException(
          "no Bluetooth address: '"
              + device
              + "'; it is six pairs such as ble:AA:BB:CC:DD:EE:FF?profile=NAME,"
              + " or ble:?profile=NAME for the strongest one");
    }
    return new Ble(
        device.isEmpty() ? Optional.empty() : Optional.of(device.toUpperCase(Locale.ROOT)),
        parts.profile());
  }

  /** The {@code key=value} parts of one address; each may be taken once. */
  final class Parts {
    private static final Pattern BLE_DEVICE = Pattern.compile("[0-9A-Fa-f]{2}(:[0-9A-Fa-f]{2}){5}");

    private final String address;
    private final Map<String, String> left;
    private final List<String> given;

    private Parts(String address, Map<String, String> left) {
      this.address = address;
      this.left = left;
      this.given = List.copyOf(left.keySet());
    }

    private static Parts of(String address, String query) {
      Map<String, String> parts = new LinkedHashMap<>();
      for (String part : query.isEmpty() ? List.<String>of() : List.of(query.split("&", -1))) {
        int equals = part.indexOf('=');
        if (equals <= 0) {
          throw new IllegalArgumentException(
              "'" + part + "' in " + address + " should be key=value");
        }
        String key = part.substring(0, equals);
        if (parts.put(key, unescaped(part.substring(equals + 1))) != null) {
          throw new IllegalArgumentException(key + " is given twice in " + address);
        }
      }
      return new Parts(address, parts);
    }

    private String body(String body, String wanted) {
      if (body.isEmpty()) {
        throw new IllegalArgumentException(address + " does not say " + wanted);
      }
      return body;
    }

    private String profile() {
      return find("profile")
          .orElseThrow(
              () ->
                  new IllegalArgumentException(
                      address
                          + " does not say how to read the scale: add profile=NAME"
                          + " ('scales' lists the names, 'scales --listen PORT' finds one)"));
    }

    private Optional<String> find(String key) {
      String value = left.remove(key);
      if (value != null && value.isEmpty()) {
        throw new IllegalArgumentException(key + " is empty in " + address);
      }
      return Optional.ofNullable(value);
    }

    private <T> Optional<T> find(String key, Function<String, T> reader) {
      return find(key)
          .map(
              word -> {
                try {
                  return reader.apply(word);
                } catch (IllegalArgumentException e) {
                  throw new IllegalArgumentException(
                      key + "=" + word + " in " + address + " should be " + e.getMessage(), e);
                }
              });
    }

    private <T> T take(String key, T otherwise, Function<String, T> reader) {
      return find(key, reader).orElse(otherwise);
    }

    private void refuseRest() {
      if (!left.isEmpty()) {
        String key = left.keySet().iterator().next();
        throw new IllegalArgumentException(
            "unknown part '"
                + key
                + "' in "
                + address
                + " (read: "
                + String.join(", ", given)
                + ")");
      }
    }

    private static int within(String word, int least, int greatest) {
      try {
        int value = Integer.parseInt(word);
        if (value >= least && value <= greatest) {
          return value;
        }
      } catch (NumberFormatException e) {
        // falls through to the one sentence for both faults
      }
      throw new IllegalArgumentException("a whole number from " + least + " to " + greatest);
    }

    private static <T extends Enum<T>> T oneOf(String word, T[] values) {
      List<String> words = new ArrayList<>();
      for (T value : values) {
        String known = value.name().toLowerCase(Locale.ROOT).replace('_', '-');
        if (known.equals(word)) {
          return value;
        }
        words.add(known);
      }
      throw new IllegalArgumentException("one of " + String.join(", ", words));
    }

    private static long seed(String word) {
      try {
        return Long.parseLong(word);
      } catch (NumberFormatException e) {
        throw new IllegalArgumentException("a whole number", e);
      }
    }

    private static double speed(String word) {
      try {
        double value = Double.parseDouble(word);
        if (value >= 0 && value <= 1e6) {
          return value;
        }
      } catch (NumberFormatException e) {
        // falls through to the one sentence for both faults
      }
      throw new IllegalArgumentException("0 (as fast as it goes) or a factor such as 1 or 2.5");
    }

    /** With each {@code %HH} as the byte it stands for; a lone percent sign stays one. */
    private static String unescaped(String text) {
      if (text.indexOf('%') < 0) {
        return text;
      }
      byte[] bytes = text.getBytes(StandardCharsets.UTF_8);
      ByteArrayOutputStream plain = new ByteArrayOutputStream(bytes.length);
      for (int i = 0; i < bytes.length; i++) {
        int high = i + 2 < bytes.length ? Character.digit(bytes[i + 1], 16) : -1;
        int low = high < 0 ? -1 : Character.digit(bytes[i + 2], 16);
        if (bytes[i] == '%' && low >= 0) {
          plain.write((high << 4) | low);
          i += 2;
        } else {
          plain.write(bytes[i]);
        }
      }
      return plain.toString(StandardCharsets.UTF_8);
    }
  }
}
