package pourwright.builder;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import pourwright.bed.Drainage;
import pourwright.forecast.Estimate;
import pourwright.forecast.Experience;
import pourwright.forecast.Forecast;
import pourwright.forecast.Trouble;
import pourwright.kettle.Course;

/** A forecast as the field {@code forecast} of a JSON object that is open. */
public final class ForecastJson {
  private static final double LEVEL_STEP_SECONDS = 1;

  private ForecastJson() {}

  public static void forecast(JsonGenerator json, Forecast forecast, Experience experience)
      throws IOException {
    json.writeObjectFieldStart("forecast");
    basis(json, forecast, experience);
    pours(json, forecast);
    estimate(json, "beverage_g", Optional.of(forecast.beverageGrams()), 10);
    estimate(json, "extraction_pct", forecast.extractionPercent(), 100);
    estimate(json, "strength_pct", forecast.strengthPercent(), 1_000);
    water(json, forecast.water());
    troubles(json, forecast.troubles());
    json.writeObjectFieldStart("slurry");
    json.writeNumberField("bed_mm", tenths(1_000 * forecast.bedMetres()));
    levels(json, "expected", forecast.levels());
    levels(json, "early", forecast.early());
    levels(json, "late", forecast.late());
    json.writeEndObject();
    kettle(json, forecast);
    json.writeEndObject();
  }

  private static void basis(JsonGenerator json, Forecast forecast, Experience experience)
      throws IOException {
    json.writeObjectFieldStart("basis");
    json.writeStringField("drain_times", forecast.isLearned() ? "own runs" : "guess");
    json.writeNumberField("runs", experience.runs());
    json.writeNumberField(
        "drained_moments", experience.bed().map(known -> known.listSightings().size()).orElse(0));
    estimate(json, "kept_g_per_g", Optional.of(experience.keptPerGram()), 100);
    estimate(json, "past_extraction_pct", experience.extractionPercent(), 100);
    json.writeEndObject();
  }

  private static void pours(JsonGenerator json, Forecast forecast) throws IOException {
    json.writeArrayFieldStart("pours");
    for (Forecast.Pour pour : forecast.pours()) {
      json.writeStartObject();
      json.writeNumberField("index", pour.index());
      json.writeNumberField("start_s", tenths(pour.poured().start().seconds()));
      json.writeNumberField("end_s", tenths(pour.poured().end().seconds()));
      if (pour.drained().isPresent()) {
        Forecast.Span span = pour.drained().get();
        json.writeObjectFieldStart("drained_s");
        json.writeNumberField("expected", tenths(span.expected().seconds()));
        json.writeNumberField("early", tenths(span.early().seconds()));
        json.writeNumberField("late", tenths(span.late().seconds()));
        json.writeEndObject();
      } else {
        json.writeNullField("drained_s");
      }
      json.writeNumberField("peak_mm", tenths(1_000 * pour.peakMetres()));
      json.writeNumberField("kettle_g", tenths(pour.kettleAtStart().mass().grams()));
      json.writeNumberField("kettle_c", tenths(pour.kettleAtStart().celsius()));
      json.writeEndObject();
    }
    json.writeEndArray();
  }

  private static void estimate(
      JsonGenerator json, String name, Optional<Estimate> estimate, double perUnit)
      throws IOException {
    if (estimate.isEmpty()) {
      json.writeNullField(name);
      return;
    }
    json.writeObjectFieldStart(name);
    json.writeNumberField("value", rounded(estimate.get().value(), perUnit));
    json.writeNumberField("uncertainty", rounded(estimate.get().uncertainty(), perUnit));
    json.writeEndObject();
  }

  private static void water(JsonGenerator json, Forecast.Water water) throws IOException {
    json.writeObjectFieldStart("water");
    json.writeNumberField("total_g", tenths(water.total().grams()));
    json.writeNumberField("pours_g", tenths(water.pours().grams()));
    json.writeNumberField("rinse_g", tenths(water.rinse().grams()));
    json.writeNumberField("stays_g", tenths(water.stays().grams()));
    json.writeNumberField("vapour_g", tenths(water.evaporated().grams()));
    json.writeEndObject();
  }

  /** As an array {@code troubles}. */
  public static void troubles(JsonGenerator json, List<Trouble> troubles) throws IOException {
    json.writeArrayFieldStart("troubles");
    for (Trouble trouble : troubles) {
      json.writeStartObject();
      json.writeNumberField("pour", trouble.pour());
      json.writeStringField("kind", trouble.kind().name().toLowerCase(Locale.ROOT));
      json.writeNumberField("by", rounded(trouble.by(), 100));
      json.writeStringField("says", trouble.says());
      json.writeStringField("fix", trouble.fix());
      json.writeEndObject();
    }
    json.writeEndArray();
  }

  /** One point a second and every turn of the surface: pairs of seconds and millimetres. */
  private static void levels(JsonGenerator json, String name, List<Drainage.Level> levels)
      throws IOException {
    json.writeArrayFieldStart(name);
    double last = Double.NEGATIVE_INFINITY;
    for (int i = 0; i < levels.size(); i++) {
      double at = levels.get(i).at().seconds();
      boolean isLast = i + 1 == levels.size();
      boolean turns = !isLast && i > 0 && isTurn(levels, i);
      if (at - last >= LEVEL_STEP_SECONDS || isLast || turns) {
        json.writeStartArray();
        json.writeNumber(tenths(at));
        json.writeNumber(tenths(1_000 * levels.get(i).slurryMetres()));
        json.writeEndArray();
        last = at;
      }
    }
    json.writeEndArray();
  }

  private static boolean isTurn(List<Drainage.Level> levels, int i) {
    double before = levels.get(i).slurryMetres() - levels.get(i - 1).slurryMetres();
    double after = levels.get(i + 1).slurryMetres() - levels.get(i).slurryMetres();
    return (before > 0) != (after > 0);
  }

  private static void kettle(JsonGenerator json, Forecast forecast) throws IOException {
    json.writeObjectFieldStart("kettle");
    json.writeNumberField("start_c", forecast.kettleCelsius());
    json.writeArrayFieldStart("course");
    for (Course.State state : forecast.kettle().listStates()) {
      json.writeStartArray();
      json.writeNumber(tenths(state.at().seconds()));
      json.writeNumber(tenths(state.content().mass().grams()));
      json.writeNumber(rounded(state.content().celsius(), 100));
      json.writeEndArray();
    }
    json.writeEndArray();
    json.writeEndObject();
  }

  private static double tenths(double value) {
    return rounded(value, 10);
  }

  private static double rounded(double value, double perUnit) {
    return Math.rint(value * perUnit) / perUnit;
  }
}
