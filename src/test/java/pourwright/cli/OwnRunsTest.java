package pourwright.cli;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class OwnRunsTest {
  private final Path folder;

  OwnRunsTest(@TempDir Path folder) {
    this.folder = folder;
  }

  private JsonNode solved(String... more) throws Exception {
    String[] args = new String[more.length + 8];
    System.arraycopy(
        new String[] {
          "stage", "solve", "--trials", "400", "--format", "json", "--data", folder.toString()
        },
        0,
        args,
        0,
        8);
    System.arraycopy(more, 0, args, 8, more.length);
    Ran ran = Ran.pourwright(args);
    assertThat(ran.status()).as(ran.err()).isZero();
    return new JsonMapper().readTree(ran.out());
  }

  @Test
  void the_scatter_of_a_season_changes_the_odds_and_says_where_it_comes_from() throws Exception {
    Ran season = Ran.pourwright("demo", "--season", "--data", folder.toString());
    assertThat(season.status()).as(season.err()).isZero();
    JsonNode own = solved("--own-spreads").path("odds");
    assertThat(own.path("spreads_from").asText()).matches("\\d+ simulated runs");
    JsonNode told = solved().path("odds");
    assertThat(told.path("spreads_from").asText()).isEqualTo("the routine, else a practised hand");
    assertThat(own.path("pours").path(0).path("mass_inside").path("share").asDouble())
        .isNotEqualTo(told.path("pours").path(0).path("mass_inside").path("share").asDouble());
  }

  @Test
  void beds_that_were_weighed_while_they_drained_give_the_drain_times() throws Exception {
    Path plan = folder.resolve("plan.yaml");
    Files.writeString(
        plan,
        """
        format: 1
        title: Weighed beds
        dose_g: 15
        water_g: 120
        pours:
          - {add_g: 50, flow_g_per_s: 5, start: {at_s: 0}}
          - {add_g: 70, flow_g_per_s: 6, start: {when: drained, at_s: 45}}
        """);
    Path routine =
        Files.writeString(
            folder.resolve("routine.yaml"),
            "format: 1\nbrewers:\n- {name: left, plan: plan.yaml, drain_s: [99, 99]}\n");
    for (int seed = 1; seed <= 2; seed++) {
      Ran run =
          Ran.pourwright(
              "rehearse",
              plan.toString(),
              "--rig=split",
              "--scale=sim:bench?speed=0&seed=" + seed,
              "--no-page",
              "--lines",
              "--data",
              folder.toString());
      assertThat(run.status()).as(run.err()).isZero();
    }
    JsonNode told = solved(routine.toString());
    assertThat(told.path("drains_from").asText()).isEqualTo("the routine, else the plans");
    assertThat(told.path("brewers").path(0).path("drain_s").path(1).asInt()).isEqualTo(99);
    JsonNode own = solved(routine.toString(), "--own-drains");
    assertThat(own.path("drains_from").asText()).isEqualTo("left from 2 simulated runs");
    // the simulated bed lets 70 g through in some 20 to 60 s
    assertThat(own.path("brewers").path(0).path("drain_s").path(1).asInt()).isBetween(15, 65);
  }
}
