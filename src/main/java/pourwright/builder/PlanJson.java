package pourwright.builder;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import pourwright.plan.Plan;
import pourwright.plan.Schedule;
import pourwright.plan.Start;

/** A plan and its schedule as fields of a JSON object that is open. */
public final class PlanJson {
  private PlanJson() {}

  public static void plan(JsonGenerator json, Schedule schedule) throws IOException {
    Plan plan = schedule.plan();
    json.writeStringField("title", plan.title());
    json.writeNumberField("dose_g", plan.dose().grams());
    json.writeNumberField("water_g", plan.water().grams());
    json.writeNumberField("ratio", plan.water().grams() / plan.dose().grams());
    json.writeArrayFieldStart("pours");
    for (Schedule.Slot slot : schedule.slots()) {
      json.writeStartObject();
      json.writeNumberField("index", slot.pour().index());
      json.writeNumberField("add_g", slot.pour().add().grams());
      json.writeNumberField("total_g", slot.to().grams());
      json.writeNumberField("flow_g_per_s", slot.pour().flow().gramsPerSecond());
      json.writeNumberField("start_s", slot.start().seconds());
      json.writeNumberField("end_s", slot.end().seconds());
      json.writeStringField("begins", rule(slot.pour().start()));
      json.writeEndObject();
    }
    json.writeEndArray();
  }

  private static String rule(Start start) {
    if (start instanceof Start.AtClock) {
      return "clock";
    }
    return start instanceof Start.AfterEnd ? "gap" : "drained";
  }
}
