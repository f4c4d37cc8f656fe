package pourwright.builder;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import pourwright.units.Flow;
import pourwright.units.Mass;

/** The fields of one JSON object; every value is checked when it is asked for. */
record Fields(JsonNode node) {
  private static final JsonMapper JSON = JsonMapper.builder().build();
  private static final int MOST_ITEMS = 50;
  private static final int MOST_CHARACTERS = 200;

  static Fields of(String text) throws BadDraft {
    try {
      JsonNode node = JSON.readTree(text);
      if (node == null || !node.isObject()) {
        throw new BadDraft("A JSON object is needed.");
      }
      return new Fields(node);
    } catch (JsonProcessingException broken) {
      throw new BadDraft("This is no JSON: " + broken.getOriginalMessage());
    }
  }

  Optional<Fields> findObject(String name) throws BadDraft {
    JsonNode value = node.get(name);
    if (value == null || value.isNull()) {
      return Optional.empty();
    }
    if (!value.isObject()) {
      throw new BadDraft("\"" + name + "\" must be an object.");
    }
    return Optional.of(new Fields(value));
  }

  List<JsonNode> items(String name) throws BadDraft {
    JsonNode value = node.get(name);
    if (value == null || !value.isArray() || value.size() > MOST_ITEMS) {
      throw new BadDraft("\"" + name + "\" must be a list of at most " + MOST_ITEMS + ".");
    }
    List<JsonNode> items = new ArrayList<>();
    value.forEach(items::add);
    return items;
  }

  /** Empty when it is left out. */
  List<JsonNode> findItems(String name) throws BadDraft {
    return node.hasNonNull(name) ? items(name) : List.of();
  }

  OptionalDouble findNumber(String name, double least, double most) throws BadDraft {
    JsonNode value = node.get(name);
    return value == null || value.isNull()
        ? OptionalDouble.empty()
        : OptionalDouble.of(number(value, name, least, most));
  }

  double number(String name, double least, double most) throws BadDraft {
    return number(node.path(name), name, least, most);
  }

  static double number(JsonNode value, String name, double least, double most) throws BadDraft {
    if (!value.isNumber()) {
      throw new BadDraft(words(name) + " is missing.");
    }
    double number = value.doubleValue();
    if (!(number >= least && number <= most)) {
      throw new BadDraft(
          String.format(
              Locale.ROOT, "%s must lie between %s and %s.", words(name), bare(least), bare(most)));
    }
    return number;
  }

  Mass mass(String name, double most) throws BadDraft {
    return Mass.ofGrams(number(name, 0, most));
  }

  Flow flow(String name, double most) throws BadDraft {
    return Flow.ofGramsPerSecond(number(name, 0, most));
  }

  String text(String name, String otherwise) throws BadDraft {
    JsonNode value = node.get(name);
    if (value == null || value.isNull()) {
      return otherwise;
    }
    if (!value.isTextual() || value.textValue().length() > MOST_CHARACTERS) {
      throw new BadDraft(words(name) + " must be text of at most 200 characters.");
    }
    return value.textValue();
  }

  boolean isSet(String name) {
    return node.path(name).asBoolean(false);
  }

  /** As the page calls it: the name without its unit. */
  private static String words(String name) {
    String bare =
        name.replaceFirst("_(g|c|s|mm|w|pct|g_per_s|w_per_k|mg_per_l|g_per_l)$", "")
            .replace('_', ' ');
    return bare.substring(0, 1).toUpperCase(Locale.ROOT) + bare.substring(1);
  }

  private static String bare(double number) {
    return BigDecimal.valueOf(number).stripTrailingZeros().toPlainString();
  }
}
