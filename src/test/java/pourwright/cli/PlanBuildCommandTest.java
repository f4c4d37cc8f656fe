package pourwright.cli;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import pourwright.plan.Plan;
import pourwright.plan.Start;
import pourwright.units.SessionTime;

class PlanBuildCommandTest {
  private final Path folder;

  PlanBuildCommandTest(@TempDir Path folder) {
    this.folder = folder;
  }

  /** Common practice, no source. */
  @Test
  void the_usual_scheme_is_written_as_a_plan_file() throws Exception {
    Path file = folder.resolve("plan.yaml");

    Ran ran =
        Ran.pourwright(
            "plan",
            "build",
            file.toString(),
            "--dose=20",
            "--water=300",
            "--opening=40",
            "--first=50",
            "--closing=3");

    assertThat(ran.status()).isZero();
    assertThat(ran.out()).contains("(1:15.0)", "written: " + file);
    assertThat(grams(PlanFile.read(file).plan())).containsExactly(50.0, 70.0, 60.0, 60.0, 60.0);
    assertThat(Ran.pourwright("plan", "check", file.toString()).status()).isZero();
  }

  @Test
  void without_a_file_the_plan_itself_is_the_result() throws Exception {
    Ran ran = Ran.pourwright("plan", "build", "--dose=16.5", "--ratio=15.7", "--start=drained");

    assertThat(ran.err()).contains("common practice, no source", "Waiting until the bed");
    Plan plan = PlanFile.of(ran.out(), "stdout").plan();
    assertThat(plan.water().grams()).isEqualTo(259);
    assertThat(plan.pours().get(1).start())
        .isEqualTo(new Start.WhenDrained(SessionTime.ofSeconds(45)));
  }

  @Test
  void json_holds_the_pours_and_what_the_cup_is_said_to_do() throws IOException {
    JsonNode json =
        json("plan", "build", "--split=3:2:1", "--start=gap", "--interval=25", "--step=0.5");

    assertThat(json.path("ratio").asDouble()).isEqualTo(15);
    List<Double> grams = new ArrayList<>();
    json.path("pours").forEach(pour -> grams.add(pour.path("add_g").asDouble()));
    assertThat(grams).containsExactly(50.0, 70.0, 90.0, 60.0, 30.0);
    assertThat(json.path("pours").path(4).path("total_g").asDouble()).isEqualTo(300);
    assertThat(json.path("pours").path(1).path("begins").asText()).isEqualTo("gap");
    assertThat(json.path("cup").path("basis").asText()).isEqualTo("common practice, no source");
    assertThat(json.path("cup").path("says")).isEmpty();
    assertThat(json.path("text").asText()).contains("{after_end_s: 25}");
  }

  @Test
  void any_list_of_pours_is_a_plan_too() throws Exception {
    Ran ran =
        Ran.pourwright(
            "plan",
            "build",
            "--dose=18",
            "--pour=40@0",
            "--pour=100.5@drained:45/6.5",
            "--pour=130@+30");

    Plan plan = PlanFile.of(ran.out(), "stdout").plan();
    assertThat(grams(plan)).containsExactly(40.0, 100.5, 130.0);
    assertThat(plan.water().grams()).isEqualTo(270.5);
    assertThat(plan.pours().get(1).flow().gramsPerSecond()).isEqualTo(6.5);
    assertThat(plan.pours().get(2).start()).isInstanceOf(Start.AfterEnd.class);
  }

  @Test
  void a_change_is_told_against_the_plan_before() throws Exception {
    Path before = folder.resolve("before.yaml");
    assertThat(Ran.pourwright("plan", "build", before.toString()).status()).isZero();

    JsonNode json = json("plan", "build", "--against=" + before, "--first=40", "--closing=4");

    List<String> says = new ArrayList<>();
    json.path("cup").path("says").forEach(sentence -> says.add(sentence.asText()));
    assertThat(says)
        .containsExactly(
            "A smaller first pour in the opening favours sweetness.",
            "More closing pours give a stronger cup.");
  }

  @Test
  void a_file_that_is_there_is_left_as_it_is_unless_forced() throws Exception {
    Path file = folder.resolve("plan.yaml");
    Files.writeString(file, "mine");

    Ran refused = Ran.pourwright("plan", "build", file.toString());
    assertThat(refused.status()).isEqualTo(1);
    assertThat(refused.err()).contains("is there already and was left as it is");
    assertThat(Files.readString(file)).isEqualTo("mine");

    assertThat(Ran.pourwright("plan", "build", file.toString(), "--force").status()).isZero();
    assertThat(Files.readString(file)).startsWith("format: 1");
  }

  @Test
  void unusual_values_are_noted() {
    assertThat(Ran.pourwright("plan", "build", "--ratio=20").err())
        .contains("note: plan", "1:20.0");
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "--dose=0|--dose must be more than 0",
        "--dose=NaN|--dose must be more than 0",
        "--opening=120|--opening must be more than 0 and at most 100",
        "--first=150|the first pour of 150 g is more than the opening",
        "--closing=0|without closing pours the opening must be 100 %",
        "--closing=-1|0 to 20 closing pours",
        "--closing=1000000000|0 to 20 closing pours",
        "--split=3:x|write numbers with colons",
        "--split=3:-1|must be more than zero",
        "--interval=5|leave at least 3 s",
        "--rig=side|--rig must be whole, server or split",
        "--pour=60|write grams@seconds",
        "--pour=0@0|must be more than zero",
        "--start=soon|soon",
      })
  void what_makes_no_plan_is_wrong_usage(String option, String said) {
    Ran ran = Ran.pourwright("plan", "build", option);

    assertThat(ran.status()).isEqualTo(2);
    assertThat(ran.err()).contains(said);
    assertThat(ran.out()).isEmpty();
  }

  @Test
  void pours_that_do_not_make_the_water_are_wrong_usage() {
    Ran ran = Ran.pourwright("plan", "build", "--water=300", "--pour=100@0", "--pour=100@45");
    assertThat(ran.status()).isEqualTo(2);
    assertThat(ran.err()).contains("the pours are 200 g, the water is 300 g");
  }

  private static JsonNode json(String... args) throws IOException {
    String[] all = java.util.Arrays.copyOf(args, args.length + 1);
    all[args.length] = "--format=json";
    Ran ran = Ran.pourwright(all);
    assertThat(ran.status()).as(ran.err()).isZero();
    return new ObjectMapper().readTree(ran.out());
  }

  private static List<Double> grams(Plan plan) {
    return plan.pours().stream().map(pour -> pour.add().grams()).toList();
  }
}
