package pourwright.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** Mock runs of the packaged program with simulated scales, faster than life. */
@Timeout(400)
class StageMockIT {
  private static final Pattern TIMED =
      Pattern.compile("(left|right) +(\\d) +(\\d+):(\\d\\d) +([+-]\\d+\\.\\d) s");

  /** Two pours on a rig. */
  static final String PLAN =
      """
      format: 1
      title: Short one
      dose_g: 12
      water_g: 120
      pours:
        - {add_g: 50, flow_g_per_s: 5.0, start: {at_s: 0}}
        - {add_g: 70, flow_g_per_s: 6.0, start: {at_s: 60}}
      """;

  private final Path folder;

  StageMockIT(@TempDir Path folder) throws IOException {
    this.folder = folder;
    Files.writeString(folder.resolve("plan.yaml"), PLAN);
  }

  private Ran mock(String name, String more, String... scales)
      throws IOException, InterruptedException {
    Path routine =
        Files.writeString(
            folder.resolve(name + ".yaml"),
            "format: 1\nbrewers:\n- {name: left, plan: plan.yaml, drain_s: [30, 40]}\n"
                + "- {name: right, plan: plan.yaml, drain_s: [30, 40]}\n"
                + more);
    List<String> args =
        new ArrayList<>(
            List.of(
                "stage",
                "mock",
                routine.toString(),
                "--trials=1",
                "--no-page",
                "--lines",
                "--format=json",
                "--data=" + folder.resolve(name + "-data")));
    for (String scale : scales) {
      args.addAll(scale.startsWith("--") ? List.of(scale) : List.of("--scale", scale));
    }
    return Program.run(folder, name, args.toArray(new String[0]));
  }

  private static void wasPouredAsPlanned(JsonNode lane) {
    assertThat(lane.path("pours")).hasSize(2);
    assertThat(lane.path("pours").path(0).path("poured_g").asDouble()).isCloseTo(50, within(2.0));
    assertThat(lane.path("pours").path(1).path("poured_g").asDouble()).isCloseTo(70, within(2.0));
    for (JsonNode pour : lane.path("comparison").path("pours")) {
      assertThat(pour.hasNonNull("actual")).isTrue();
      assertThat(Math.abs(pour.path("start_error_s").asDouble())).isLessThan(3);
    }
  }

  /** Every pour of both brewers lies on the stage clock where the timetable has it. */
  private static void wasOnTheStageClock(String told) {
    Matcher timed = TIMED.matcher(told);
    int pours = 0;
    while (timed.find()) {
      pours++;
      assertThat(Math.abs(Double.parseDouble(timed.group(5)))).as(timed.group()).isLessThan(3);
    }
    assertThat(pours).as(told).isEqualTo(4);
  }

  @Test
  void every_simulated_brewer_is_poured_when_the_timetable_says_judged_and_kept() throws Exception {
    Ran ran = mock("two", "", "sim:bench?seed=1&speed=40", "sim:bench?seed=2&speed=40");
    assertThat(ran.status()).as(ran.err()).isZero();
    JsonNode lanes = new JsonMapper().readTree(ran.out()).path("lanes");
    assertThat(lanes).hasSize(2);
    lanes.forEach(StageMockIT::wasPouredAsPlanned);
    lanes.forEach(lane -> assertThat(lane.path("lift").isObject()).isTrue());
    wasOnTheStageClock(ran.err());
    assertThat(ran.err()).contains("kept as run 1", "kept as run 2");
  }

  @Test
  void one_scale_that_is_moved_between_gives_each_brewer_their_own_pours() throws Exception {
    Ran ran = mock("moved", "hands: {scale_s: 7}\n", "sim:bench?seed=3&speed=40");
    assertThat(ran.status()).as(ran.err()).isZero();
    JsonNode lanes = new JsonMapper().readTree(ran.out()).path("lanes");
    assertThat(lanes).hasSize(2);
    lanes.forEach(StageMockIT::wasPouredAsPlanned);
    wasOnTheStageClock(ran.err());
    // the scale was elsewhere when the first dripper came off
    assertThat(lanes.path(0).path("lift").isNull()).isTrue();
    assertThat(lanes.path(1).path("lift").isObject()).isTrue();
    assertThat(ran.err())
        .contains("now the scale goes under right")
        .doesNotContain("too fast to move");
  }

  @Test
  void where_the_pours_leave_no_time_to_move_the_scale_that_is_said() throws Exception {
    Ran ran = mock("tight", "hands: {travel_s: 0}\n", "replay:none.stream", "--moved");
    assertThat(ran.err()).contains("too fast to move the scale to ", "6 s");
  }
}
