package pourwright.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class PlanPredictCommandTest {
  private final Path folder;
  private final Path plan;

  PlanPredictCommandTest(@TempDir Path folder) {
    this.folder = folder;
    this.plan = folder.resolve("plan.yaml");
  }

  @BeforeEach
  void build() {
    Ran built =
        Ran.pourwright(
            "plan", "build", plan.toString(), "--temp=93", "--strength=1.4", "--interval=55");
    assertThat(built.status()).as(built.err()).isZero();
  }

  private Ran predict(String... options) {
    List<String> args = new ArrayList<>(List.of("plan", "predict", plan.toString()));
    args.add("--data=" + folder.resolve("data"));
    args.addAll(List.of(options));
    return Ran.pourwright(args.toArray(String[]::new));
  }

  private JsonNode json(String... options) throws IOException {
    List<String> args = new ArrayList<>(List.of(options));
    args.add("--format=json");
    Ran ran = predict(args.toArray(String[]::new));
    assertThat(ran.status()).as(ran.err()).isZero();
    return new ObjectMapper().readTree(ran.out()).path("forecast");
  }

  @Test
  void everything_is_foreseen_in_one_document() throws IOException {
    JsonNode forecast = json();

    assertThat(forecast.path("basis").path("drain_times").asText()).isEqualTo("guess");
    assertThat(forecast.path("beverage_g").path("value").asDouble()).isEqualTo(260);
    // 1.4 % of 260 g out of 20 g
    assertThat(forecast.path("extraction_pct").path("value").asDouble())
        .isCloseTo(18.2, within(1e-9));
    assertThat(forecast.path("strength_pct").isNull()).isTrue();
    assertThat(forecast.path("water").path("total_g").asDouble()).isBetween(460.0, 461.0);
    assertThat(forecast.path("pours")).hasSize(5);
    JsonNode first = forecast.path("pours").path(0);
    assertThat(first.path("kettle_g").asDouble()).isEqualTo(600);
    assertThat(first.path("kettle_c").asDouble()).isEqualTo(93);
    assertThat(first.path("drained_s").path("early").asDouble())
        .isLessThan(first.path("drained_s").path("expected").asDouble());
    assertThat(forecast.path("slurry").path("expected").size()).isGreaterThan(100);
    assertThat(forecast.path("kettle").path("course").size()).isGreaterThan(100);
  }

  @Test
  void one_drained_moment_that_was_watched_makes_it_the_brewers_own() throws IOException {
    JsonNode forecast = json("--drained=50@8.3/25", "--no-learn");
    assertThat(forecast.path("basis").path("drain_times").asText()).isEqualTo("own runs");
    assertThat(forecast.path("pours").path(0).path("drained_s").path("expected").asDouble())
        .isCloseTo(25, within(0.3));
  }

  @Test
  void a_cooling_that_was_watched_is_seen_again() throws IOException {
    JsonNode forecast = json("--cooled=93:83@4/600", "--fill-g=600");
    double last = forecast.path("pours").path(4).path("kettle_c").asDouble();
    JsonNode guess = json("--fill-g=600");
    assertThat(last).isLessThan(guess.path("pours").path(4).path("kettle_c").asDouble() - 2);
  }

  @Test
  void text_tells_a_person_what_is_in_the_way() {
    Ran ran = predict("--fill-g=250", "--limit-s=60", "--most-flow=5");
    assertThat(ran.status()).isZero();
    assertThat(ran.out())
        .contains(
            "a guess",
            "beverage      260.0 ± 6.0 g, as the coffee keeps 2.00 ± 0.30 g of water per gram\n",
            "water in all")
        .contains("pour 1: 6.0 g/s is 1.0 g/s more than the kettle gives")
        .contains("g short; fill it with")
        .contains("after the limit of 1:00");
  }

  @Test
  void a_kit_stands_in_a_file() throws IOException {
    Path kit = folder.resolve("kit.txt");
    Files.writeString(
        kit,
        """
        --dripper=flat
        --across-mm=70
        --rim-mm=55
        --kettle-g=800
        --fill-g=700
        --base
        --heater-w=1200
        --room-c=23
        --rinse-g=80
        --stays-g=40
        --cooler-c=2
        --refill=100@100:95
        """);
    JsonNode forecast = json("@" + kit);
    assertThat(forecast.path("pours").path(0).path("kettle_g").asDouble()).isEqualTo(700);
    assertThat(forecast.path("water").path("total_g").asDouble()).isBetween(420.0, 421.0);
    assertThat(forecast.path("pours").path(4).path("kettle_c").asDouble()).isGreaterThan(92);
  }

  @Test
  void the_check_of_a_plan_names_what_stands_in_its_way() {
    Ran ran = Ran.pourwright("plan", "check", plan.toString(), "--most-flow=5");
    assertThat(ran.status()).isZero();
    assertThat(ran.err())
        .contains("note: pour 1: 6.0 g/s is 1.0 g/s more than the kettle gives; plan 5.0 g/s");
    assertThat(ran.out()).contains("50 g");
  }

  @ParameterizedTest
  @CsvSource({
    "--drained=60@10, --drained: write",
    "--drained=60@10/5, --drained: write",
    "--cooled=94, --cooled: write",
    "--cooled=90:95@5/600, --cooled: a cooling goes down",
    "--cooled=94:93.99@600/600, no kettle of this kind",
    "--refill=100, --refill: write",
    "--refill=100@90:120, --refill: write",
    "--across-mm=0, --across-mm must be more than 0",
    "--kettle-g=0, --kettle-g must be more than 0",
    "--rim-mm=-4, --rim-mm must lie between",
    "--room-c=200, --room-c must lie between",
    "--dripper=square, square",
  })
  void a_kit_that_cannot_be_is_wrong_usage(String option, String said) {
    Ran ran = predict(option, "--no-learn");
    assertThat(ran.status()).isEqualTo(2);
    assertThat(ran.err()).contains(said);
  }
}
