package pourwright.record;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.time.Duration;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;
import pourwright.compare.Comparison;
import pourwright.detect.Disturbance;
import pourwright.detect.Findings;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * What was found in a recording, as JSON: times in seconds from its start, masses in grams, {@code
 * null} for what is not known.
 *
 * <p>Estimates are rounded to a thousandth; announcements are the exact times of the readings that
 * settled them.
 */
public final class ResultJson {
  private static final int FORMAT = 1;
  private static final int DECIMALS = 3;

  private final JsonGenerator json;

  private ResultJson(JsonGenerator json) {
    this.json = json;
  }

  /**
   * Writes the members of the result into an object that is already open, so that more can be put
   * beside them.
   *
   * @param warnings plain sentences beside those of the findings
   */
  public static void writeMembers(
      JsonGenerator json, Findings findings, Optional<Comparison> comparison, List<String> warnings)
      throws IOException {
    new ResultJson(json).members(findings, comparison, warnings);
  }

  private void members(Findings findings, Optional<Comparison> comparison, List<String> warnings)
      throws IOException {
    json.writeNumberField("format", FORMAT);
    json.writeStringField("rig", findings.rig().word());
    json.writeArrayFieldStart("pours");
    for (Findings.Pour pour : findings.pours()) {
      pour(pour);
    }
    json.writeEndArray();
    json.writeArrayFieldStart("drawdowns");
    for (Findings.Drawdown drawdown : findings.drawdowns()) {
      json.writeStartObject();
      json.writeNumberField("after_pour", drawdown.afterPour());
      time("start_s", drawdown.start());
      time("end_s", drawdown.end());
      json.writeStringField("basis", word(drawdown.basis()));
      json.writeEndObject();
    }
    json.writeEndArray();
    json.writeFieldName("lift");
    if (findings.lift().isPresent()) {
      lift(findings.lift().get());
    } else {
      json.writeNull();
    }
    json.writeArrayFieldStart("disturbances");
    for (Disturbance disturbance : findings.disturbances()) {
      json.writeStartObject();
      time("start_s", disturbance.start());
      time("end_s", disturbance.end());
      json.writeStringField("kind", word(disturbance.kind()));
      json.writeEndObject();
    }
    json.writeEndArray();
    json.writeArrayFieldStart("gaps");
    for (Findings.Gap gap : findings.gaps()) {
      json.writeStartObject();
      json.writeStringField("scale", gap.place().word());
      time("start_s", gap.start());
      time("end_s", gap.end());
      json.writeEndObject();
    }
    json.writeEndArray();
    if (comparison.isPresent()) {
      json.writeFieldName("comparison");
      comparison(comparison.get());
    }
    json.writeArrayFieldStart("warnings");
    for (String warning : findings.warnings()) {
      json.writeString(warning);
    }
    for (String warning : warnings) {
      json.writeString(warning);
    }
    json.writeEndArray();
  }

  private void pour(Findings.Pour pour) throws IOException {
    json.writeStartObject();
    json.writeNumberField("index", pour.index());
    time("start_s", pour.start());
    time("end_s", pour.end());
    mass("poured_g", pour.poured());
    number("mean_flow_g_per_s", pour.meanFlow().nanogramsPerSecond());
    announced("start_announced_s", pour.startAnnounced());
    announced("end_announced_s", pour.endAnnounced());
    json.writeBooleanField("across_gap", pour.acrossGap());
    json.writeEndObject();
  }

  private void lift(Findings.Lift lift) throws IOException {
    json.writeStartObject();
    time("time_s", lift.time());
    mass("removed_g", lift.removed());
    if (lift.beverage().isPresent()) {
      mass("beverage_g", lift.beverage().get());
    } else {
      json.writeNullField("beverage_g");
    }
    json.writeEndObject();
  }

  private void comparison(Comparison comparison) throws IOException {
    json.writeStartObject();
    json.writeArrayFieldStart("pours");
    for (Comparison.JudgedPour pour : comparison.pours()) {
      judged(pour);
    }
    json.writeEndArray();
    json.writeNumberField(
        "deviation_index",
        BigDecimal.valueOf(comparison.deviationIndex()).setScale(DECIMALS, RoundingMode.HALF_EVEN));
    json.writeEndObject();
  }

  private void judged(Comparison.JudgedPour pour) throws IOException {
    json.writeStartObject();
    index("planned", pour.planned());
    index(
        "actual", pour.made().isEmpty() ? OptionalInt.empty() : OptionalInt.of(pour.made().get(0)));
    mass("mass_error_g", pour.massError());
    if (pour.placing().isPresent()) {
      Comparison.Placing placing = pour.placing().get();
      span("start_error_s", placing.startError());
      number("flow_error_g_per_s", placing.flowError().nanogramsPerSecond());
    } else {
      json.writeNullField("start_error_s");
      json.writeNullField("flow_error_g_per_s");
    }
    json.writeStringField("verdict", pour.verdict().word());
    json.writeArrayFieldStart("actual_all");
    for (int made : pour.made()) {
      json.writeNumber(made);
    }
    json.writeEndArray();
    if (pour.placing().isPresent()) {
      Comparison.Placing placing = pour.placing().get();
      span("length_error_s", placing.lengthError());
      mass("departure_g", placing.departure().by());
      time("departure_s", placing.departure().at());
      if (placing.unsteadiness().isPresent()) {
        json.writeNumberField(
            "unsteadiness",
            BigDecimal.valueOf(placing.unsteadiness().getAsDouble())
                .setScale(DECIMALS, RoundingMode.HALF_EVEN));
      } else {
        json.writeNullField("unsteadiness");
      }
    }
    json.writeArrayFieldStart("reasons");
    for (String reason : pour.reasons()) {
      json.writeString(reason);
    }
    json.writeEndArray();
    json.writeEndObject();
  }

  private void index(String name, OptionalInt index) throws IOException {
    if (index.isPresent()) {
      json.writeNumberField(name, index.getAsInt());
    } else {
      json.writeNullField(name);
    }
  }

  private void time(String name, SessionTime time) throws IOException {
    number(name, time.nanos());
  }

  private void span(String name, Duration span) throws IOException {
    number(name, span.toNanos());
  }

  private void mass(String name, Mass mass) throws IOException {
    number(name, mass.nanograms());
  }

  /** A count of billionths, rounded. */
  private void number(String name, long billionths) throws IOException {
    json.writeNumberField(
        name, BigDecimal.valueOf(billionths, 9).setScale(DECIMALS, RoundingMode.HALF_EVEN));
  }

  private void announced(String name, Optional<SessionTime> time) throws IOException {
    if (time.isPresent()) {
      BigDecimal exact = BigDecimal.valueOf(time.get().nanos(), 9).stripTrailingZeros();
      json.writeNumberField(name, exact.scale() < 0 ? exact.setScale(0) : exact);
    } else {
      json.writeNullField(name);
    }
  }

  private static String word(Enum<?> value) {
    return value.name().toLowerCase(Locale.ROOT);
  }
}
