package pourwright.cli;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import pourwright.journal.RunEntry;

/** What is known of a kept run beside its pours, as JSON; {@code null} for what is not known. */
final class RunHead {
  private static final int DECIMALS = 3;

  private RunHead() {}

  /** Into an object that is already open. */
  static void writeMembers(JsonGenerator json, RunEntry run) throws IOException {
    json.writeNumberField("run", run.id());
    json.writeStringField("started_at", run.startedAt().toString());
    if (run.title().isPresent()) {
      json.writeStringField("title", run.title().get());
    } else {
      json.writeNullField("title");
    }
    json.writeStringField("brewer", run.brewer());
    json.writeStringField("rig", run.rig().word());
    json.writeStringField("feedback", run.feedback().word());
    json.writeBooleanField("simulated", run.isSimulated());
    json.writeBooleanField("void", run.isVoid());
    json.writeBooleanField("deleted", run.isDeleted());
    json.writeStringField("ended", run.state().word());
    json.writeNumberField("length_s", BigDecimal.valueOf(run.length().toMillis(), DECIMALS));
    json.writeNumberField("pour_count", run.pours());
    number(json, "planned", run.planned());
    number(json, "inside", run.inside());
    number(json, "deviation_index", run.deviationIndex());
    number(json, "strength_percent", run.strengthPercent());
    json.writeStringField("note", run.note());
  }

  private static void number(JsonGenerator json, String name, OptionalInt value)
      throws IOException {
    if (value.isPresent()) {
      json.writeNumberField(name, value.getAsInt());
    } else {
      json.writeNullField(name);
    }
  }

  private static void number(JsonGenerator json, String name, OptionalDouble value)
      throws IOException {
    if (value.isPresent()) {
      json.writeNumberField(
          name, BigDecimal.valueOf(value.getAsDouble()).setScale(DECIMALS, RoundingMode.HALF_EVEN));
    } else {
      json.writeNullField(name);
    }
  }
}
