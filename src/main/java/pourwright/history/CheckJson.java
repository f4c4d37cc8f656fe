package pourwright.history;

import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.math.BigDecimal;
import java.math.MathContext;
import java.time.Instant;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.List;
import pourwright.check.Change;
import pourwright.check.CheckRecord;
import pourwright.check.Figure;
import pourwright.check.Verdict;
import pourwright.performance.Estimate;

/**
 * A check as JSON, the same in files, on standard output and for the page: masses in grams, times
 * in seconds, every figure with its standard uncertainty and the ends of its 95 % interval.
 */
public final class CheckJson {
  static final int FORMAT = 1;
  private static final MathContext DIGITS = new MathContext(6);

  private CheckJson() {}

  /** Writes the members of a check into an object that is already open. */
  public static void writeMembers(JsonGenerator json, CheckRecord check) throws IOException {
    json.writeNumberField("format", FORMAT);
    json.writeStringField("at", check.at().toString());
    json.writeStringField("scale", check.scale());
    json.writeStringField("program", check.program());
    json.writeStringField("length", check.length());
    strings(json, "weights", check.weights());
    json.writeBooleanField("whole", check.isWhole());
    json.writeNumberField("losses", check.losses());
    json.writeNumberField("disturbances", check.disturbances());
    json.writeNumberField("confidence", Estimate.CONFIDENCE);
    json.writeArrayFieldStart("figures");
    for (Figure figure : check.figures()) {
      json.writeStartObject();
      json.writeStringField("key", figure.key());
      json.writeStringField("name", figure.name());
      json.writeStringField("unit", figure.unit());
      number(json, "value", figure.estimate().value());
      number(json, "standard_uncertainty", figure.estimate().standardUncertainty());
      number(json, "low", figure.estimate().low());
      number(json, "high", figure.estimate().high());
      json.writeStringField("note", figure.note());
      json.writeEndObject();
    }
    json.writeEndArray();
    strings(json, "notes", check.notes());
  }

  /** Writes a verdict as a member. */
  public static void writeVerdict(JsonGenerator json, Verdict verdict) throws IOException {
    json.writeObjectFieldStart("verdict");
    json.writeStringField("for", verdict.demands().title());
    json.writeStringField("overall", verdict.overall().word());
    number(json, "tolerance_g", verdict.demands().toleranceGrams());
    number(json, "smallest_tolerance_g", verdict.smallestToleranceGrams());
    number(json, "guard_g", verdict.guardGrams());
    json.writeStringField("yardstick", verdict.yardstick());
    json.writeArrayFieldStart("overshoots");
    for (Verdict.Overshoot one : verdict.overshoots()) {
      json.writeStartObject();
      number(json, "flow_g_per_s", one.flow());
      number(json, "by_lag_g", one.byLagGrams());
      number(json, "left_g", one.leftGrams());
      json.writeEndObject();
    }
    json.writeEndArray();
    json.writeArrayFieldStart("items");
    for (Verdict.Item item : verdict.items()) {
      json.writeStartObject();
      json.writeStringField("name", item.name());
      json.writeStringField("grade", item.grade().word());
      json.writeStringField("finding", item.finding());
      json.writeStringField("advice", item.advice());
      json.writeEndObject();
    }
    json.writeEndArray();
    json.writeEndObject();
  }

  /** Writes what changed since the check before as a member. */
  public static void writeChanges(JsonGenerator json, List<Change> changes) throws IOException {
    json.writeArrayFieldStart("changes");
    for (Change change : changes) {
      json.writeStartObject();
      json.writeStringField("key", change.now().key());
      json.writeStringField("name", change.now().name());
      json.writeStringField("unit", change.now().unit());
      number(json, "before", change.before().estimate().value());
      number(json, "now", change.now().estimate().value());
      json.writeBooleanField("changed", change.isReal());
      json.writeEndObject();
    }
    json.writeEndArray();
  }

  private static void strings(JsonGenerator json, String name, List<String> values)
      throws IOException {
    json.writeArrayFieldStart(name);
    for (String value : values) {
      json.writeString(value);
    }
    json.writeEndArray();
  }

  /** Six digits: far more than any scale has. */
  private static void number(JsonGenerator json, String name, double value) throws IOException {
    json.writeFieldName(name);
    if (Double.isFinite(value)) {
      BigDecimal rounded = new BigDecimal(value).round(DIGITS).stripTrailingZeros();
      json.writeNumber(rounded.scale() < 0 ? rounded.setScale(0) : rounded);
    } else {
      json.writeNull();
    }
  }

  /**
   * A check out of its JSON.
   *
   * @throws IOException when it is none; the message says what is wrong
   */
  static CheckRecord read(JsonNode node) throws IOException {
    if (node.path("format").asInt(0) != FORMAT) {
      throw new IOException("is not a check of format " + FORMAT);
    }
    List<Figure> figures = new ArrayList<>();
    for (JsonNode one : node.path("figures")) {
      figures.add(
          new Figure(
              one.path("key").asText(),
              one.path("name").asText(),
              one.path("unit").asText(),
              estimate(one),
              one.path("note").asText()));
    }
    try {
      return new CheckRecord(
          Instant.parse(node.path("at").asText()),
          node.path("scale").asText(),
          node.path("program").asText(),
          node.path("length").asText(),
          strings(node.path("weights")),
          node.path("whole").asBoolean(),
          node.path("losses").asInt(),
          node.path("disturbances").asInt(),
          figures,
          strings(node.path("notes")));
    } catch (DateTimeParseException wrong) {
      throw new IOException("does not say when it was", wrong);
    }
  }

  private static Estimate estimate(JsonNode node) throws IOException {
    try {
      return new Estimate(
          node.path("value").asDouble(Double.NaN),
          node.path("standard_uncertainty").asDouble(Double.NaN),
          node.path("low").asDouble(Double.NaN),
          node.path("high").asDouble(Double.NaN));
    } catch (IllegalArgumentException wrong) {
      throw new IOException("figure " + node.path("key").asText() + " is no estimate", wrong);
    }
  }

  private static List<String> strings(JsonNode array) {
    List<String> strings = new ArrayList<>();
    array.forEach(one -> strings.add(one.asText()));
    return strings;
  }
}
