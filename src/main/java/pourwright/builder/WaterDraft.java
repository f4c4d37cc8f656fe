package pourwright.builder;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import pourwright.mineral.Blend;
import pourwright.mineral.Minerals;
import pourwright.units.Mass;

/**
 * Waters at hand as the page holds them, and what is wanted of them.
 *
 * @param fields as sent
 */
record WaterDraft(Fields fields) {
  /** Anything larger is a slip of the finger (mg/L, g); own choice. */
  private static final double MOST = 100_000;

  /** More salt than that does not dissolve, whatever it is (g/L); own choice. */
  private static final double MOST_SALT = 1_000;

  /** The mixture, or why there is none. */
  sealed interface Made {
    record Mixed(Blend blend) implements Made {}

    record Not(String problem) implements Made {}
  }

  Made make() throws BadDraft {
    Map<Blend.Water, OptionalDouble> waters = waters();
    return switch (fields.text("want", "target")) {
      case "target" -> forTarget(List.copyOf(waters.keySet()));
      case "mix" -> mixed(waters);
      default -> throw new BadDraft("What is wanted is a target or a mix.");
    };
  }

  private Made forTarget(List<Blend.Water> waters) throws BadDraft {
    Minerals target =
        new Minerals(
            fields.number("hardness_mg_per_l", 0, MOST),
            fields.number("alkalinity_mg_per_l", 0, MOST));
    Mass batch = Mass.ofGrams(fields.number("batch_g", 1, MOST));
    Optional<Blend> blend = Blend.forTarget(waters, target, batch);
    if (blend.isPresent()) {
      return new Made.Mixed(blend.get());
    }
    return new Made.Not(Blend.whyNone(waters, target));
  }

  private static Made mixed(Map<Blend.Water, OptionalDouble> waters) {
    Map<Blend.Water, Mass> parts = new LinkedHashMap<>();
    waters.forEach((water, grams) -> parts.put(water, Mass.ofGrams(grams.orElse(0))));
    Blend blend = new Blend(parts);
    return blend.total().equals(Mass.ZERO)
        ? new Made.Not("say how much of each water there is")
        : new Made.Mixed(blend);
  }

  /** In their order, each with how much of it was weighed where that was said (g). */
  private Map<Blend.Water, OptionalDouble> waters() throws BadDraft {
    Map<Blend.Water, OptionalDouble> waters = new LinkedHashMap<>();
    List<String> names = new ArrayList<>();
    for (JsonNode item : fields.items("waters")) {
      Fields water = new Fields(item);
      String name = water.text("name", "").strip();
      if (name.isEmpty()) {
        name = "water " + (names.size() + 1);
      }
      if (names.contains(name)) {
        throw new BadDraft("Two waters are called " + name + ".");
      }
      names.add(name);
      try {
        waters.put(new Blend.Water(name, minerals(water)), water.findNumber("mass_g", 0, MOST));
      } catch (BadDraft bad) {
        throw new BadDraft(name + ": " + bad.getMessage());
      }
    }
    if (waters.isEmpty()) {
      throw new BadDraft("Name a water to begin with.");
    }
    return waters;
  }

  private static Minerals minerals(Fields water) throws BadDraft {
    String carries = water.text("carries", "nothing");
    return switch (carries) {
      case "nothing" -> Minerals.NONE;
      case "counted" ->
          new Minerals(
              water.number("hardness_mg_per_l", 0, MOST),
              water.number("alkalinity_mg_per_l", 0, MOST));
      case "label" ->
          Minerals.ofIons(
              water.number("calcium_mg_per_l", 0, MOST),
              water.number("magnesium_mg_per_l", 0, MOST),
              water.number("bicarbonate_mg_per_l", 0, MOST));
      default ->
          Minerals.Salt.findByWord(carries)
              .orElseThrow(
                  () ->
                      new BadDraft("A water carries nothing, what was counted, a label or a salt."))
              .dissolved(water.number("salt_g_per_l", 0, MOST_SALT));
    };
  }
}
