package pourwright.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class AnalyseCommandTest {
  private static final String DEMO_PLAN = "src/main/resources/pourwright/plans/regional-heat.yaml";

  private final Path folder;

  AnalyseCommandTest(@TempDir Path folder) {
    this.folder = folder;
  }

  private static JsonNode json(Ran ran) throws IOException {
    assertThat(ran.err()).isEmpty();
    assertThat(ran.status()).isZero();
    return new ObjectMapper().readTree(ran.out());
  }

  @Test
  void finds_the_pours_of_a_trace_and_writes_one_json_document() throws IOException {
    JsonNode result =
        json(Ran.pourwright("analyse", Traces.fourPours(folder).toString(), "--format", "json"));

    assertThat(result.path("format").asInt()).isEqualTo(1);
    assertThat(result.path("rig").asText()).isEqualTo("whole");
    assertThat(result.path("pours")).hasSize(4);
    JsonNode first = result.path("pours").path(0);
    assertThat(first.path("index").asInt()).isEqualTo(1);
    assertThat(first.path("start_s").asDouble()).isCloseTo(5, within(0.3));
    assertThat(first.path("end_s").asDouble()).isCloseTo(13.4, within(0.3));
    assertThat(first.path("poured_g").asDouble()).isCloseTo(42, within(0.5));
    assertThat(first.path("start_announced_s").asDouble())
        .isGreaterThanOrEqualTo(first.path("start_s").asDouble());
    assertThat(result.path("lift").path("time_s").asDouble())
        .isCloseTo(Traces.LIFT_SECONDS, within(0.5));
    assertThat(result.path("lift").path("removed_g").asDouble()).isCloseTo(160, within(0.5));
    assertThat(result.path("lift").path("beverage_g").isNull()).isTrue();
    assertThat(result.has("drawdowns")).isTrue();
    assertThat(result.has("disturbances")).isTrue();
    assertThat(result.path("warnings").isArray()).isTrue();
    assertThat(result.has("comparison")).isFalse();
  }

  @Test
  void compares_with_a_plan_when_one_is_given() throws IOException {
    JsonNode comparison =
        json(Ran.pourwright(
                "analyse",
                Traces.fourPours(folder).toString(),
                "--plan",
                DEMO_PLAN,
                "--format=json"))
            .path("comparison");

    assertThat(comparison.path("pours")).hasSize(4);
    JsonNode first = comparison.path("pours").path(0);
    assertThat(first.path("planned").asInt()).isEqualTo(1);
    assertThat(first.path("actual").asInt()).isEqualTo(1);
    assertThat(first.path("start_error_s").asDouble()).isZero();
    assertThat(first.path("verdict").asText()).isEqualTo("inside");
    assertThat(comparison.path("deviation_index").asDouble()).isBetween(0.0, 0.5);
  }

  @Test
  void a_missed_pour_has_no_actual_one_and_no_start() throws IOException {
    Path plan =
        Traces.file(
            folder,
            "five.yaml",
            """
            format: 1
            dose_g: 16.5
            water_g: 264
            pours:
              - {add_g: 42, flow_g_per_s: 5.0, start: {at_s: 0}}
              - {add_g: 60, flow_g_per_s: 5.0, start: {at_s: 24}}
              - {add_g: 66, flow_g_per_s: 6.0, start: {at_s: 48}}
              - {add_g: 48, flow_g_per_s: 6.0, start: {at_s: 89}}
              - {add_g: 48, flow_g_per_s: 6.0, start: {at_s: 130}}
            """);
    JsonNode pours =
        json(Ran.pourwright(
                "analyse", Traces.fourPours(folder).toString(), "--plan=" + plan, "--format=json"))
            .path("comparison")
            .path("pours");

    JsonNode missed = pours.path(1);
    assertThat(missed.path("verdict").asText()).isEqualTo("missed");
    assertThat(missed.path("planned").asInt()).isEqualTo(2);
    assertThat(missed.path("actual").isNull()).isTrue();
    assertThat(missed.path("start_error_s").isNull()).isTrue();
    assertThat(missed.path("flow_error_g_per_s").isNull()).isTrue();
    assertThat(missed.path("mass_error_g").asDouble()).isEqualTo(-60);
  }

  @Test
  void text_tells_the_same_to_a_person() throws IOException {
    Ran ran = Ran.pourwright("analyse", Traces.fourPours(folder).toString(), "--plan", DEMO_PLAN);

    assertThat(ran.status()).isZero();
    assertThat(ran.out()).contains("pour     start", "inside", "Deviation index", "Lifted at");
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          empty.csv | ''                                      | is empty
          head.csv  | 'time_s,mass_g\n'                       | holds no weights, only a header
          nan.csv   | 'time_s,mass_g\n0,1\n0.1,NaN\n0.2,1\n'  | line 3: mass_g says
          back.csv  | 'time_s,mass_g\n0,1\n2,1\n1,1\n2,1\n'   | line 4: time_s goes back from 2 to 1
          other.csv | 'seconds;grams\n0;1\n'                  | has no column time_s
          raw.stream| '0.0 2b0d0a\n'                          | does not say how to read it
          """)
  void a_bad_recording_is_named_in_one_line(String name, String text, String expected)
      throws IOException {
    Path file = Traces.file(folder, name.strip(), text.replace("\\n", "\n"));

    Ran ran = Ran.pourwright("analyse", file.toString());

    assertThat(ran.status()).isEqualTo(1);
    assertThat(ran.out()).isEmpty();
    assertThat(ran.err().lines()).hasSize(1);
    assertThat(ran.err()).contains(file.toString(), expected);
  }

  @Test
  void one_lone_weight_is_a_recording_without_pours() throws IOException {
    Path file = Traces.file(folder, "one.csv", "time_s,mass_g\n0,1.5\n");

    assertThat(json(Ran.pourwright("analyse", file.toString(), "--format=json")).path("pours"))
        .isEmpty();
  }

  @ParameterizedTest
  @CsvSource({
    "--rig=sideways, --rig must be whole, server or split",
    "--dose-g=-3, --dose-g must be more than 0",
    "--dripper-g=NaN, --dripper-g must be more than 0",
    "--lag-s=99, --lag-s must be 0 to 10 seconds",
    "--format=xml, expected one of",
    "--nosuch=1, Unknown option"
  })
  void wrong_usage_ends_with_status_2(String option, String expected) throws IOException {
    Ran ran = Ran.pourwright("analyse", Traces.fourPours(folder).toString(), option);

    assertThat(ran.status()).isEqualTo(2);
    assertThat(ran.out()).isEmpty();
    assertThat(ran.err()).contains(expected);
  }

  @Test
  void a_missing_file_a_folder_and_a_broken_plan_end_with_status_1() throws IOException {
    Path plan =
        Traces.file(
            folder,
            "bad.yaml",
            """
            format: 1
            dose_g: 16
            water_g: 10
            pours:
              - {add_g: 42, flow_g_per_s: 0, start: {at_s: 0}}
            """);

    assertThat(Ran.pourwright("analyse", folder.resolve("none.csv").toString()))
        .satisfies(ran -> assertThat(ran.status()).isEqualTo(1))
        .satisfies(ran -> assertThat(ran.err()).contains("none.csv: no such file"));
    assertThat(Ran.pourwright("analyse", folder.toString()).err()).contains("is a folder");
    Ran ran =
        Ran.pourwright("analyse", Traces.fourPours(folder).toString(), "--plan", plan.toString());
    assertThat(ran.status()).isEqualTo(1);
    assertThat(ran.err()).contains("bad.yaml:5:");
    assertThat(ran.err().lines()).hasSize(1);
  }

  @Test
  void a_split_rig_needs_both_scales() throws IOException {
    Ran ran = Ran.pourwright("analyse", Traces.fourPours(folder).toString(), "--rig=split");

    assertThat(ran.status()).isEqualTo(1);
    assertThat(ran.err()).contains("no weights of the scale under the server");
  }
}
