package pourwright.device.protocol;

import java.math.BigDecimal;
import java.time.Duration;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.TreeSet;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.snakeyaml.engine.v2.nodes.MappingNode;
import org.snakeyaml.engine.v2.nodes.Node;
import org.snakeyaml.engine.v2.nodes.NodeTuple;
import org.snakeyaml.engine.v2.nodes.ScalarNode;
import org.snakeyaml.engine.v2.nodes.SequenceNode;
import pourwright.device.BleSettings;
import pourwright.device.Bytes;

/** One value of a profile's text, which knows where it stands. */
final class ProfileNode {
  private final String source;
  private final String name;
  private final Node node;

  ProfileNode(String source, String name, Node node) {
    this.source = source;
    this.name = name;
    this.node = node;
  }

  InvalidProfileException wrong(String what) {
    String place =
        node.getStartMark()
            .map(mark -> (mark.getLine() + 1) + ":" + (mark.getColumn() + 1) + ": ")
            .orElse("");
    return new InvalidProfileException(source + ":" + place + what);
  }

  /** The keys and values of this section, in order. */
  Map<String, ProfileNode> entries() throws InvalidProfileException {
    if (!(node instanceof MappingNode mapping)) {
      throw wrong("'" + name + "' should be a section of key: value lines");
    }
    Map<String, ProfileNode> entries = new LinkedHashMap<>();
    for (NodeTuple tuple : mapping.getValue()) {
      ProfileNode key = new ProfileNode(source, name, tuple.getKeyNode());
      String word = key.text();
      if (entries.put(word, new ProfileNode(source, word, tuple.getValueNode())) != null) {
        throw key.wrong("'" + word + "' is given twice");
      }
    }
    return entries;
  }

  /** This section, whose keys are all among {@code known}. */
  Section section(String... known) throws InvalidProfileException {
    Map<String, ProfileNode> entries = entries();
    for (NodeTuple tuple : ((MappingNode) node).getValue()) {
      ProfileNode key = new ProfileNode(source, name, tuple.getKeyNode());
      if (!List.of(known).contains(key.text())) {
        throw key.wrong(
            "unknown key '"
                + key.text()
                + "'"
                + nearest(key.text(), known)
                    .map(near -> "; did you mean '" + near + "'?")
                    .orElse("; known here: " + String.join(", ", new TreeSet<>(List.of(known)))));
      }
    }
    return new Section(this, entries);
  }

  List<ProfileNode> items() throws InvalidProfileException {
    if (node instanceof SequenceNode sequence) {
      return sequence.getValue().stream().map(one -> new ProfileNode(source, name, one)).toList();
    }
    throw wrong("'" + name + "' should be a list, as in [one, two]");
  }

  boolean isList() {
    return node instanceof SequenceNode;
  }

  String text() throws InvalidProfileException {
    if (node instanceof ScalarNode scalar) {
      return scalar.getValue();
    }
    throw wrong("'" + name + "' should be one value");
  }

  /** A whole number, decimal or with 0x in front. */
  int whole(int least, int greatest) throws InvalidProfileException {
    try {
      int value = Integer.decode(decimal(text()));
      if (value >= least && value <= greatest) {
        return value;
      }
    } catch (NumberFormatException e) {
      // falls through to the one sentence for both faults
    }
    throw wrong(
        "'"
            + name
            + "' should be a whole number from "
            + least
            + " to "
            + greatest
            + ", not '"
            + text()
            + "'");
  }

  /** Without leading zeros, which would ask for octal digits. */
  private static String decimal(String digits) {
    return digits.matches("0\\d+") ? digits.replaceFirst("0+(?=\\d)", "") : digits;
  }

  boolean yesOrNo() throws InvalidProfileException {
    return oneOf(Map.of("yes", true, "no", false));
  }

  <T> T oneOf(Map<String, T> known) throws InvalidProfileException {
    T found = known.get(text());
    if (found == null) {
      throw wrong(
          "'"
              + name
              + "' should be one of "
              + String.join(", ", new TreeSet<>(known.keySet()))
              + ", not '"
              + text()
              + "'");
    }
    return found;
  }

  <E extends Enum<E>> E oneOf(E[] values) throws InvalidProfileException {
    return oneOf(
        List.of(values).stream().collect(Collectors.toMap(ProfileNode::word, Function.identity())));
  }

  static String word(Enum<?> value) {
    return value.name().toLowerCase(Locale.ROOT).replace('_', '-');
  }

  /** A time in seconds, in steps of a millisecond, above 0. */
  Duration seconds(int greatest) throws InvalidProfileException {
    if (text().matches("\\d{1,4}(\\.\\d{1,3})?")) {
      Duration time = Duration.ofMillis(new BigDecimal(text()).movePointRight(3).longValueExact());
      if (!time.isZero() && time.toSeconds() <= greatest) {
        return time;
      }
    }
    throw wrong(
        "'" + name + "' should be seconds above 0 up to " + greatest + ", not '" + text() + "'");
  }

  /** A Bluetooth UUID: four hexadecimal digits of the standard, or all thirty-two. */
  UUID uuid() throws InvalidProfileException {
    String word = text();
    if (word.matches("[0-9A-Fa-f]{4}")) {
      return BleSettings.standard(Integer.parseInt(word, 16));
    }
    if (word.matches("[0-9A-Fa-f]{8}(-[0-9A-Fa-f]{4}){3}-[0-9A-Fa-f]{12}")) {
      return UUID.fromString(word);
    }
    throw wrong(
        "'"
            + name
            + "' should be a Bluetooth UUID, as in 181d or"
            + " 0000181d-0000-1000-8000-00805f9b34fb, not '"
            + word
            + "'");
  }

  /** Bytes in hexadecimal, with or without blanks between the pairs. */
  Bytes hex() throws InvalidProfileException {
    try {
      return Bytes.ofHex(text().replace(" ", ""));
    } catch (IllegalArgumentException e) {
      throw wrong(
          "'" + name + "' should be bytes in hexadecimal, as in 02 or aa 55, not '" + text() + "'");
    }
  }

  private static Optional<String> nearest(String word, String... known) {
    String best = "";
    int least = 3;
    for (String one : known) {
      int distance = distance(word, one);
      if (distance < least) {
        least = distance;
        best = one;
      }
    }
    return best.isEmpty() ? Optional.empty() : Optional.of(best);
  }

  /** Letters to put in, take out or change to get from one word to the other. */
  private static int distance(String from, String to) {
    List<Integer> row = new ArrayList<>();
    for (int j = 0; j <= to.length(); j++) {
      row.add(j);
    }
    for (int i = 1; i <= from.length(); i++) {
      int diagonal = row.get(0);
      row.set(0, i);
      for (int j = 1; j <= to.length(); j++) {
        int above = row.get(j);
        int changed = diagonal + (from.charAt(i - 1) == to.charAt(j - 1) ? 0 : 1);
        row.set(j, Math.min(changed, 1 + Math.min(above, row.get(j - 1))));
        diagonal = above;
      }
    }
    return row.get(to.length());
  }

  /** A section whose keys are known to be right. */
  record Section(ProfileNode place, Map<String, ProfileNode> entries) {
    Optional<ProfileNode> find(String key) {
      return Optional.ofNullable(entries.get(key));
    }

    ProfileNode need(String key) throws InvalidProfileException {
      ProfileNode found = entries.get(key);
      if (found == null) {
        throw place.wrong("'" + key + "' is missing in " + place.name);
      }
      return found;
    }
  }
}
