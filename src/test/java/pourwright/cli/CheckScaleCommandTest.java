package pourwright.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.mockito.Mockito;
import pourwright.detect.DetectorSettings;
import pourwright.device.Decoder;
import pourwright.device.ScaleCommands;
import pourwright.device.Transport;
import pourwright.history.ScaleHistory;
import pourwright.rig.Place;
import pourwright.session.PlacedScale;
import pourwright.session.Stand;

class CheckScaleCommandTest {
  private final Path data;

  CheckScaleCommandTest(@TempDir Path data) {
    this.data = data;
  }

  private Ran run(String... args) {
    List<String> all = new ArrayList<>(List.of("check-scale", "--no-page"));
    all.add("--data=" + data);
    all.addAll(List.of(args));
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    int status = Main.run(new PrintWriter(out), new PrintWriter(err), all.toArray(String[]::new));
    return new Ran(status, out.toString(), err.toString());
  }

  private static double value(JsonNode check, String key) {
    for (JsonNode figure : check.path("figures")) {
      if (figure.path("key").asText().equals(key)) {
        return figure.path("value").asDouble();
      }
    }
    throw new AssertionError("no " + key + " in " + check);
  }

  @Test
  void a_bent_scale_is_found_bent_and_the_check_is_kept() throws IOException {
    Ran ran =
        run(
            "--scale=sim:bent?speed=0&seed=4",
            "--weight=50:M1",
            "--weight=100:M1",
            "--weight=200:M1",
            "--format=json");
    assertThat(ran.status()).as(ran.err()).isZero();
    assertThat(ran.err()).contains("Put on the 200 g weight", "All done.", "kept in ");
    JsonNode check = new ObjectMapper().readTree(ran.out());
    assertThat(check.path("format").asInt()).isEqualTo(1);
    assertThat(check.path("whole").asBoolean()).isTrue();
    // 4 × 0.8 g × m/500 × (1 − m/500) at 200 g
    assertThat(value(check, "error_at_200_g")).isCloseTo(0.768, within(0.04));
    // 0.5 g × sin(π × 150 / 350)
    assertThat(value(check, "hysteresis_g")).isCloseTo(0.487, within(0.05));
    assertThat(value(check, "filter_lag_s")).isCloseTo(0.24, within(0.02));
    assertThat(check.path("verdict").path("overall").asText()).isNotEmpty();
    assertThat(check.path("changes")).isEmpty();
    try (Stream<Path> files = Files.walk(data.resolve("scales"))) {
      assertThat(files.filter(file -> file.toString().endsWith(".json"))).hasSize(1);
    }
  }

  @Test
  void a_second_check_tells_what_changed_and_the_history_lists_both() throws IOException {
    assertThat(run("--scale=sim:bench?speed=0&seed=1", "--length=quick").status()).isZero();
    Ran second = run("--scale=sim:bench?speed=0&seed=2", "--length=quick");
    assertThat(second.status()).isZero();
    assertThat(second.out())
        .contains(
            "Nothing changed since the check before", "A user check, not a legal verification");
    Ran history = run("--scale=sim:bench", "--history");
    assertThat(history.status()).isZero();
    assertThat(history.out().lines()).hasSize(2).allMatch(line -> line.contains("quick"));
    assertThat(run("--scale=sim:board", "--history").out()).contains("No check");
  }

  @Test
  void a_rehearsal_with_a_checked_scale_is_told_its_lag_and_noise() throws IOException {
    assertThat(run("--scale=sim:late?speed=0", "--length=quick").status()).isZero();
    ScaleHistory history = new ScaleHistory(data.resolve("scales"));
    List<String> notes = new ArrayList<>();
    KnownScales checked = new KnownScales(history, OptionalDouble.empty(), notes::add);
    PlacedScale scale = placed("sim:late?seed=9", "status-letter");
    // 0.55 s of smoothing, 0.2 s before it hears of a load
    assertThat(
            checked.into(DetectorSettings.standard(), scale).lagSeconds(Place.WHOLE).orElseThrow())
        .isCloseTo(0.75, within(0.1));
    // the noise of that scale is 0.03 g, most of it rounded away
    assertThat(
            checked.into(DetectorSettings.standard(), scale).noiseGrams(Place.WHOLE).orElseThrow())
        .isBetween(0.0, 0.06);
    assertThat(notes)
        .allMatch(note -> note.equals(notes.get(0)))
        .first()
        .asString()
        .contains("runs 0.", "as checked on 20");

    KnownScales named = new KnownScales(history, OptionalDouble.of(0.3), notes::add);
    assertThat(named.into(DetectorSettings.standard(), scale).lagSeconds(Place.WHOLE))
        .hasValue(0.3);
    assertThat(
            checked
                .into(DetectorSettings.standard(), placed("sim:late", "number-unit"))
                .lagSeconds(Place.WHOLE))
        .isEmpty();
    assertThat(notes).hasSize(2);
  }

  private static PlacedScale placed(String address, String profile) {
    return new PlacedScale(
        new Stand(1, Place.WHOLE),
        address,
        profile,
        true,
        Mockito.mock(Transport.class),
        Mockito.mock(Decoder.class),
        ScaleCommands.NONE);
  }

  @Test
  void what_is_wrong_on_the_command_line_is_said_in_one_sentence() {
    assertThat(run("--scale=sim:bench", "--weight=7:M1"))
        .satisfies(
            ran -> {
              assertThat(ran.status()).isEqualTo(2);
              assertThat(ran.err()).contains("weights of M1 are 1 g, 2 g, 5 g", "not 7 g");
            });
    assertThat(run("--scale=sim:bench", "--weight=heavy").err()).contains("200:M1", "312.4:0.1");
    assertThat(run("--scale=sim:bench", "--length=short").err())
        .contains("quick, usual or long, not 'short'");
    assertThat(run("--scale=sim:none").err()).contains("no simulated scale called none", "bench");
    assertThat(run("--scale=sim:none").status()).isEqualTo(1);
  }
}
