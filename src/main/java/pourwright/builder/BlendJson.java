package pourwright.builder;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.util.Map;
import pourwright.mineral.Blend;
import pourwright.mineral.Minerals;
import pourwright.units.Mass;

/** What to weigh for a water, and what it carries, as fields of a JSON object that is open. */
public final class BlendJson {
  private BlendJson() {}

  public static void blend(JsonGenerator json, Blend blend) throws IOException {
    json.writeArrayFieldStart("weigh");
    for (Map.Entry<Blend.Water, Mass> part : blend.parts().entrySet()) {
      json.writeStartObject();
      json.writeStringField("water", part.getKey().name());
      json.writeNumberField("mass_g", part.getValue().grams());
      minerals(json, part.getKey().minerals());
      json.writeEndObject();
    }
    json.writeEndArray();
    Minerals minerals = blend.minerals();
    json.writeNumberField("total_g", blend.total().grams());
    minerals(json, minerals);
    json.writeNumberField("hardness_german_degrees", minerals.hardnessGermanDegrees());
  }

  private static void minerals(JsonGenerator json, Minerals minerals) throws IOException {
    json.writeNumberField("hardness_mg_per_l", minerals.hardnessMgPerLitre());
    json.writeNumberField("alkalinity_mg_per_l", minerals.alkalinityMgPerLitre());
  }
}
