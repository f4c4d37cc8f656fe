package pourwright.builder;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import pourwright.web.Answer;
import pourwright.web.Question;

class WaterDraftTest {
  private static final String DISTILLED = "{\"name\": \"distilled\", \"carries\": \"nothing\"}";
  private static final String HARD =
      "{\"name\": \"hard\", \"carries\": \"epsom\", \"salt_g_per_l\": 2.45}";
  private static final String BUFFER =
      "{\"name\": \"buffer\", \"carries\": \"soda\", \"salt_g_per_l\": 1.68}";

  private final PlanDesk desk = new PlanDesk(Path.of("none"), (title, areSimulated) -> List.of());

  private JsonNode told(String want, String... waters) throws IOException {
    Answer answer =
        desk.answer(
                new Question(
                    false,
                    "/api/v1/plan/water",
                    Map.of(),
                    "{" + want + ", \"waters\": [" + String.join(", ", waters) + "]}"))
            .orElseThrow();
    return new ObjectMapper().readTree(new String(answer.content(), StandardCharsets.UTF_8));
  }

  private static String target(int hardness, int alkalinity) {
    return "\"want\": \"target\", \"hardness_mg_per_l\": %d, \"alkalinity_mg_per_l\": %d, \"batch_g\": 1000"
        .formatted(hardness, alkalinity);
  }

  /** A published recipe of two concentrates, about 1000 mg/L each: 68 and 40 of the batch. */
  @Test
  void what_to_weigh_for_a_target_is_told() throws IOException {
    JsonNode told = told(target(68, 40), DISTILLED, HARD, BUFFER);
    assertThat(told.path("weigh")).hasSize(3);
    assertThat(told.path("weigh").path(1).path("water").asText()).isEqualTo("hard");
    assertThat(told.path("weigh").path(1).path("mass_g").asDouble())
        .isCloseTo(1_000 * 68 / 994.9, within(0.01));
    assertThat(told.path("weigh").path(2).path("mass_g").asDouble())
        .isCloseTo(1_000 * 40 / 1000.8, within(0.01));
    assertThat(told.path("hardness_mg_per_l").asDouble()).isCloseTo(68, within(1e-6));
    assertThat(told.path("hardness_german_degrees").asDouble()).isCloseTo(3.81, within(0.01));
    assertThat(told.path("total_g").asDouble()).isCloseTo(1_000, within(1e-6));
  }

  /** R package tidywater, calculate_hardness: Ca 50, Mg 10 → 166.0447 mg/L as CaCO₃. */
  @Test
  void what_a_mix_carries_is_told() throws IOException {
    JsonNode told =
        told(
            "\"want\": \"mix\"",
            "{\"name\": \"tap\", \"carries\": \"label\", \"calcium_mg_per_l\": 50,"
                + " \"magnesium_mg_per_l\": 10, \"bicarbonate_mg_per_l\": 100, \"mass_g\": 250}",
            "{\"name\": \"distilled\", \"carries\": \"nothing\", \"mass_g\": 250}",
            "{\"carries\": \"counted\", \"hardness_mg_per_l\": 9, \"alkalinity_mg_per_l\": 9}");
    assertThat(told.path("total_g").asDouble()).isEqualTo(500);
    assertThat(told.path("hardness_mg_per_l").asDouble()).isCloseTo(166.0447 / 2, within(0.01));
    assertThat(told.path("alkalinity_mg_per_l").asDouble()).isCloseTo(41.01, within(0.01));
    assertThat(told.path("weigh").path(2).path("water").asText()).isEqualTo("water 3");
    assertThat(told("\"want\": \"mix\"", DISTILLED).path("problem").asText())
        .isEqualTo("say how much of each water there is");
  }

  @Test
  void why_no_mixture_meets_a_target_is_said_with_what_to_add() throws IOException {
    String tap =
        "{\"name\": \"tap\", \"carries\": \"counted\", \"hardness_mg_per_l\": 140,"
            + " \"alkalinity_mg_per_l\": 90}";
    assertThat(told(target(50, 40), tap).path("problem").asText())
        .isEqualTo(
            "no mixture of these waters has hardness 50, alkalinity 40 mg/L as CaCO3; all are"
                + " harder: add a softer one, such as distilled water");
    assertThat(told(target(200, 40), tap, DISTILLED).path("problem").asText())
        .endsWith("none is as hard: add a concentrate of a salt that makes hardness");
    assertThat(told(target(140, 50), tap).path("problem").asText())
        .endsWith("all are more alkaline: add a softer one, such as distilled water");
    assertThat(told(target(70, 100), tap, DISTILLED).path("problem").asText())
        .endsWith("none is as alkaline: add a concentrate of a bicarbonate");
    assertThat(told(target(100, 20), tap, DISTILLED).path("problem").asText())
        .endsWith("add a concentrate that is stronger, or a softer water");
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          {"name": "tap", "carries": "counted"}                          | tap: Hardness is missing.
          {"name": "tap", "carries": "label", "calcium_mg_per_l": 1, "magnesium_mg_per_l": -1} | tap: Magnesium must lie between 0 and 100000.
          {"carries": "epsom", "salt_g_per_l": 2000}                     | water 1: Salt must lie between 0 and 1000.
          {"name": "tap", "carries": "gold"}                             | tap: A water carries nothing, what was counted, a label or a salt.
          {"name": "a"}, {"name": " a "}                                 | Two waters are called a.
          ''                                                             | Name a water to begin with.
          """)
  void what_is_wrong_is_said_plainly(String waters, String error) throws IOException {
    assertThat(told(target(68, 40), waters).path("error").asText()).isEqualTo(error);
    assertThat(told("\"want\": \"gold\"", DISTILLED).path("error").asText())
        .isEqualTo("What is wanted is a target or a mix.");
    assertThat(told("\"want\": \"target\"", DISTILLED).path("error").asText())
        .isEqualTo("Hardness is missing.");
  }
}
