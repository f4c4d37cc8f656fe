package pourwright.web;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.StreamReadConstraints;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.core.json.JsonReadFeature;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.util.Set;
import java.util.TreeSet;
import pourwright.session.Command;
import pourwright.units.Mass;

/** Reads what clients send; every field is checked before anything is done. */
final class Told {
  private static final JsonMapper JSON =
      JsonMapper.builder(
              com.fasterxml.jackson.core.JsonFactory.builder()
                  .streamReadConstraints(
                      StreamReadConstraints.builder()
                          .maxNestingDepth(8)
                          .maxStringLength(4_000)
                          .maxNumberLength(32)
                          .build())
                  .disable(JsonReadFeature.ALLOW_NON_NUMERIC_NUMBERS)
                  .build())
          .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
          .enable(DeserializationFeature.FAIL_ON_TRAILING_TOKENS)
          .build();

  /** Far more than any brewer pours (g). */
  private static final double MOST_GRAMS = 5_000;

  private static final int MOST_LANES = 64;
  private static final int MOST_POURS = 1_000;

  private Told() {}

  /**
   * A command to the rehearsal.
   *
   * @throws BadMessage when it is none
   */
  static Command command(String text) throws BadMessage {
    JsonNode node = object(text);
    String what = string(node, "do");
    return switch (what) {
      case "void" -> only(node, new Command.VoidRun(), "do");
      case "stop" -> only(node, new Command.Stop(), "do");
      case "tare" -> only(node, new Command.Tare(lane(node)), "do", "lane");
      case "drained" -> only(node, new Command.MarkDrained(lane(node)), "do", "lane");
      case "scale_under" -> only(node, new Command.ScaleIsUnder(lane(node)), "do", "lane");
      case "estimate" ->
          only(
              node,
              new Command.Estimate(
                  lane(node),
                  whole(node, "pour", 1, MOST_POURS),
                  Mass.ofGrams(number(node, "poured_g", 0, MOST_GRAMS))),
              "do",
              "lane",
              "pour",
              "poured_g");
      default ->
          throw new BadMessage(
              "\"do\" must be one of void, stop, tare, drained, scale_under, estimate; not \""
                  + shortened(what)
                  + "\".");
    };
  }

  /**
   * A pairing code.
   *
   * @throws BadMessage when there is none
   */
  static String code(String text) throws BadMessage {
    JsonNode node = object(text);
    return only(node, string(node, "code"), "code");
  }

  static JsonNode object(String text) throws BadMessage {
    JsonNode node;
    try {
      node = JSON.readTree(text);
    } catch (JsonProcessingException broken) {
      throw new BadMessage("This is no JSON: " + broken.getOriginalMessage());
    }
    if (node == null || !node.isObject()) {
      throw new BadMessage("A JSON object is needed.");
    }
    return node;
  }

  static <T> T only(JsonNode node, T result, String... known) throws BadMessage {
    Set<String> rest = new TreeSet<>();
    node.fieldNames().forEachRemaining(rest::add);
    rest.removeAll(Set.of(known));
    if (!rest.isEmpty()) {
      throw new BadMessage("Unknown field \"" + shortened(rest.iterator().next()) + "\".");
    }
    return result;
  }

  static String string(JsonNode node, String name) throws BadMessage {
    JsonNode value = node.get(name);
    if (value == null || !value.isTextual()) {
      throw new BadMessage("\"" + name + "\" is needed, as text.");
    }
    return value.textValue();
  }

  static double number(JsonNode node, String name, double least, double most) throws BadMessage {
    JsonNode value = node.get(name);
    if (value == null || !value.isNumber()) {
      throw new BadMessage("\"" + name + "\" is needed, as a number.");
    }
    double number = value.doubleValue();
    if (!(number >= least && number <= most)) {
      throw new BadMessage("\"" + name + "\" must lie between " + least + " and " + most + ".");
    }
    return number;
  }

  static int whole(JsonNode node, String name, int least, int most) throws BadMessage {
    double number = number(node, name, least, most);
    if (number != Math.rint(number)) {
      throw new BadMessage("\"" + name + "\" must be a whole number.");
    }
    return (int) number;
  }

  private static int lane(JsonNode node) throws BadMessage {
    return whole(node, "lane", 1, MOST_LANES);
  }

  private static String shortened(String text) {
    return text.length() <= 40 ? text : text.substring(0, 40) + "…";
  }
}
