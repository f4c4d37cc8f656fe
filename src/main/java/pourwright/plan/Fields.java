package pourwright.plan;

import java.math.BigDecimal;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.snakeyaml.engine.v2.nodes.MappingNode;
import org.snakeyaml.engine.v2.nodes.Node;
import org.snakeyaml.engine.v2.nodes.NodeTuple;
import org.snakeyaml.engine.v2.nodes.ScalarNode;
import org.snakeyaml.engine.v2.nodes.SequenceNode;
import org.snakeyaml.engine.v2.nodes.Tag;

/** The keys and values of one YAML mapping, read with complaints that name the place. */
public final class Fields {
  private static final Pattern NUMBER =
      Pattern.compile("[-+]?(\\d+(\\.\\d*)?|\\.\\d+)([eE][-+]?\\d{1,2})?");
  private static final Pattern DECIMAL_COMMA = Pattern.compile("([-+]?\\d+),(\\d+)");
  private static final Pattern WITH_UNIT =
      Pattern.compile("([-+]?\\d+(\\.\\d+)?) ?[\\p{L}%°][\\p{L}%°/]*");
  private static final Pattern MINUTES = Pattern.compile("(\\d{1,3}):([0-5]\\d)");
  private static final int NUMBER_CHARACTERS_MAX = 24;

  /** A mistyped key is taken for a known one when no more than this many letters differ. */
  private static final int TYPING_SLIPS_MAX = 3;

  private final MappingNode map;
  private final String name;
  private final Problems problems;
  private final Map<String, Node> values = new LinkedHashMap<>();

  /**
   * Reads the keys of {@code map}, and complains about those that are unknown or come twice.
   *
   * @param name what the mapping is called in a complaint
   */
  public Fields(MappingNode map, String name, Problems problems, List<String> known) {
    this.map = map;
    this.name = name;
    this.problems = problems;
    Map<String, Node> keys = new LinkedHashMap<>();
    for (NodeTuple tuple : map.getValue()) {
      Node keyNode = tuple.getKeyNode();
      String key = keyNode instanceof ScalarNode scalar ? scalar.getValue() : "";
      if (!known.contains(key)) {
        problems.error(
            keyNode,
            name + " has no key '" + shorten(key) + "'",
            nearest(key, known)
                .map(near -> "did you mean '" + near + "'?")
                .orElse("the keys are " + String.join(", ", known)));
        continue;
      }
      Node first = keys.putIfAbsent(key, keyNode);
      if (first == null) {
        values.put(key, tuple.getValueNode());
      } else {
        problems.error(
            keyNode,
            "'" + key + "' stands here a second time",
            "keep one of the two; the first is in line "
                + (first.getStartMark().orElseThrow().getLine() + 1));
      }
    }
  }

  public Node node() {
    return map;
  }

  public boolean has(String key) {
    return values.containsKey(key);
  }

  /** The place of a value, or of the whole mapping where the key is missing. */
  public Node placeOf(String key) {
    return values.getOrDefault(key, map);
  }

  /** Complains when {@code key} is missing. */
  public void require(String key, String example) {
    if (!has(key)) {
      problems.error(map, name + " has no '" + key + "'", "add " + example);
    }
  }

  public Optional<String> text(String key) {
    Node value = values.get(key);
    if (value == null) {
      return Optional.empty();
    }
    if (value instanceof ScalarNode scalar
        && !scalar.getTag().equals(Tag.NULL)
        && !scalar.getValue().isBlank()) {
      return Optional.of(scalar.getValue());
    }
    problems.error(value, "'" + key + "' has no text", "write a few words after the colon");
    return Optional.empty();
  }

  /** A number within {@code limits}; empty when missing, or wrong and complained about. */
  public Optional<BigDecimal> number(String key, Limits limits) {
    Node value = values.get(key);
    if (value == null) {
      return Optional.empty();
    }
    if (!(value instanceof ScalarNode scalar)) {
      problems.error(value, "'" + key + "' is not a number", "write one number, " + limits.words());
      return Optional.empty();
    }
    String text = scalar.getValue();
    if (text.length() > NUMBER_CHARACTERS_MAX || !NUMBER.matcher(text).matches()) {
      problems.error(
          value,
          "'" + key + "' is not a number: '" + shorten(text) + "'",
          guess(text, key).orElse("write one number, " + limits.words()));
      return Optional.empty();
    }
    BigDecimal number = new BigDecimal(text);
    if (!limits.admit(number)) {
      problems.error(
          value, "'" + key + "' is " + number.toPlainString(), "it must be " + limits.words());
      return Optional.empty();
    }
    return Optional.of(number);
  }

  public Optional<Fields> mapping(String key, String called, List<String> known, String example) {
    Node value = values.get(key);
    if (value == null) {
      return Optional.empty();
    }
    if (value instanceof MappingNode inner) {
      return Optional.of(new Fields(inner, called, problems, known));
    }
    problems.error(value, "'" + key + "' is not a set of keys", "write " + example);
    return Optional.empty();
  }

  public List<Node> list(String key, String example) {
    Node value = values.get(key);
    if (value == null) {
      return List.of();
    }
    if (value instanceof SequenceNode sequence) {
      return sequence.getValue();
    }
    problems.error(value, "'" + key + "' is not a list", "write lines like '- " + example + "'");
    return List.of();
  }

  /**
   * The range of a number.
   *
   * @param low least value, itself only allowed when {@code lowAllowed}
   * @param high greatest value, allowed
   */
  public record Limits(BigDecimal low, boolean lowAllowed, BigDecimal high, String unit) {
    public static Limits above(String low, String high, String unit) {
      return new Limits(new BigDecimal(low), false, new BigDecimal(high), unit);
    }

    public static Limits from(String low, String high, String unit) {
      return new Limits(new BigDecimal(low), true, new BigDecimal(high), unit);
    }

    boolean admit(BigDecimal number) {
      int aboveLow = number.compareTo(low);
      return (lowAllowed ? aboveLow >= 0 : aboveLow > 0) && number.compareTo(high) <= 0;
    }

    String words() {
      return (lowAllowed ? "from " : "more than ") + low + " to " + high + " " + unit;
    }
  }

  private static Optional<String> guess(String text, String key) {
    Matcher comma = DECIMAL_COMMA.matcher(text);
    if (comma.matches()) {
      return Optional.of(
          "write the decimal point as a point: " + comma.group(1) + "." + comma.group(2));
    }
    Matcher minutes = MINUTES.matcher(text);
    if (key.endsWith("_s") && minutes.matches()) {
      int seconds = 60 * Integer.parseInt(minutes.group(1)) + Integer.parseInt(minutes.group(2));
      return Optional.of("write seconds: " + seconds);
    }
    Matcher unit = WITH_UNIT.matcher(text);
    if (text.length() <= NUMBER_CHARACTERS_MAX && unit.matches()) {
      return Optional.of("the unit is in the key already, write " + unit.group(1));
    }
    return Optional.empty();
  }

  public static String shorten(String text) {
    String oneLine = text.replaceAll("\\s+", " ");
    return oneLine.length() <= 40 ? oneLine : oneLine.substring(0, 39) + "…";
  }

  /** The known word that takes the fewest typing slips, if few enough. */
  public static Optional<String> nearest(String word, List<String> known) {
    String small = shorten(word).toLowerCase(Locale.ROOT).replace('-', '_').replace(' ', '_');
    String best = "";
    int bestSlips = Integer.MAX_VALUE;
    for (String candidate : known) {
      int slips = small.length() >= 3 && candidate.startsWith(small) ? 1 : slips(small, candidate);
      if (slips < bestSlips) {
        bestSlips = slips;
        best = candidate;
      }
    }
    int allowed = Math.min(TYPING_SLIPS_MAX, Math.max(1, small.length() / 2));
    return bestSlips <= allowed ? Optional.of(best) : Optional.empty();
  }

  /** Levenshtein distance: letters put in, left out or changed. */
  private static int slips(String a, String b) {
    int[] row = new int[b.length() + 1];
    for (int j = 0; j <= b.length(); j++) {
      row[j] = j;
    }
    for (int i = 1; i <= a.length(); i++) {
      int diagonal = row[0];
      row[0] = i;
      for (int j = 1; j <= b.length(); j++) {
        int change = diagonal + (a.charAt(i - 1) == b.charAt(j - 1) ? 0 : 1);
        diagonal = row[j];
        row[j] = Math.min(change, Math.min(row[j], row[j - 1]) + 1);
      }
    }
    return row[b.length()];
  }
}
