package pourwright.record;

import com.fasterxml.jackson.core.JsonEncoding;
import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import pourwright.session.RunStart;

/** What is known of a run before its first reading, as JSON. */
final class RunJson {
  private static final JsonFactory JSON = new JsonFactory();
  private static final int FORMAT = 1;

  private RunJson() {}

  static byte[] of(RunStart start) throws IOException {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (JsonGenerator json = JSON.createGenerator(bytes, JsonEncoding.UTF8)) {
      json.useDefaultPrettyPrinter();
      json.writeStartObject();
      json.writeNumberField("format", FORMAT);
      json.writeStringField("recorded_at", start.at().toString());
      json.writeStringField("program", start.program());
      json.writeBooleanField("simulated", start.simulated());
      json.writeStringField("feedback", start.feedback().word());
      json.writeArrayFieldStart("lanes");
      for (RunStart.Lane lane : start.lanes()) {
        json.writeStartObject();
        json.writeNumberField("number", lane.number());
        json.writeStringField("brewer", lane.brewer());
        json.writeStringField("rig", lane.rig().word());
        json.writeArrayFieldStart("scales");
        for (RunStart.HeardScale scale : lane.scales()) {
          json.writeStartObject();
          json.writeStringField("place", scale.stand().place().word());
          json.writeStringField("address", scale.address());
          json.writeStringField("profile", scale.profile());
          json.writeEndObject();
        }
        json.writeEndArray();
        json.writeEndObject();
      }
      json.writeEndArray();
      json.writeEndObject();
    }
    return bytes.toByteArray();
  }
}
