package pourwright.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class WaterCommandTest {

  private static JsonNode json(String... args) throws IOException {
    String[] all = java.util.Arrays.copyOf(args, args.length + 1);
    all[args.length] = "--format=json";
    Ran ran = Ran.pourwright(all);
    assertThat(ran.status()).as(ran.err()).isZero();
    return new ObjectMapper().readTree(ran.out());
  }

  /** R package tidywater, calculate_hardness: Ca 50, Mg 10 → 166.0447 mg/L as CaCO₃. */
  @Test
  void a_label_is_read_as_the_published_formula_has_it() throws IOException {
    JsonNode json = json("water", "mix", "tap=ca:50,mg:10,hco3:100@500");
    assertThat(json.path("hardness_mg_per_l").asDouble()).isCloseTo(166.0447, within(0.01));
    assertThat(json.path("alkalinity_mg_per_l").asDouble()).isCloseTo(82.02, within(0.01));
  }

  @Test
  void a_blend_carries_the_mean_of_its_parts() throws IOException {
    JsonNode json = json("water", "mix", "tap=140/90@250", "distilled@750");
    assertThat(json.path("hardness_mg_per_l").asDouble()).isCloseTo(35, within(1e-9));
    assertThat(json.path("alkalinity_mg_per_l").asDouble()).isCloseTo(22.5, within(1e-9));
    assertThat(json.path("total_g").asDouble()).isEqualTo(1_000);
  }

  /** A published recipe of two concentrates, about 1000 mg/L each: 68 and 40 of the batch. */
  @Test
  void the_usual_concentrates_meet_a_target() throws IOException {
    JsonNode weigh =
        json("water", "target", "--hardness=68", "--alkalinity=40", "--batch=1000").path("weigh");
    assertThat(weigh).hasSize(3);
    assertThat(weigh.path(1).path("mass_g").asDouble()).isCloseTo(1_000 * 68 / 994.9, within(0.01));
    assertThat(weigh.path(2).path("mass_g").asDouble())
        .isCloseTo(1_000 * 40 / 1000.8, within(0.01));
  }

  @Test
  void text_tells_what_to_weigh() {
    Ran ran =
        Ran.pourwright(
            "water",
            "target",
            "--hardness=60",
            "--alkalinity=30",
            "tap=120/60",
            "distilled",
            "hard=calcium-chloride:2",
            "soft=potassium-bicarbonate:2");
    assertThat(ran.status()).isZero();
    assertThat(ran.out()).contains("750.0 g  tap", "750.0 g  distilled", "60.0 mg/L", "3.4 °dH");
  }

  @Test
  void a_target_out_of_reach_says_what_to_add() {
    Ran ran = Ran.pourwright("water", "target", "--hardness=60", "--alkalinity=30", "distilled");
    assertThat(ran.status()).isEqualTo(1);
    assertThat(ran.err()).contains("no mixture of these waters", "add a concentrate");
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "mix tap=140/90|say how much of it",
        "mix tap@100|write NAME=",
        "mix tap=salt:3@100|salts are epsom",
        "mix tap=140@100|write NAME=",
        "mix =@|write NAME=",
        "mix distilled@0|nothing in this blend",
        "target --hardness=-1 --alkalinity=40|--hardness must lie between",
        "target --hardness=NaN --alkalinity=40|--hardness must lie between",
        "target --hardness=60 --alkalinity=40 --batch=0|--batch must lie between",
        "target --hardness=60|--alkalinity",
      })
  void what_cannot_be_read_is_wrong_usage(String told, String said) {
    Ran ran = Ran.pourwright(("water " + told).split(" ", -1));
    assertThat(ran.status()).isEqualTo(2);
    assertThat(ran.err()).contains(said);
  }

  @Test
  void without_a_command_it_says_which_there_are() {
    assertThat(Ran.pourwright("water").err()).contains("water mix, water target");
  }
}
