package pourwright.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;
import pourwright.device.catalogue.Profiles;
import pourwright.device.protocol.Encoder;
import pourwright.device.serial.PseudoTerminal;
import pourwright.reading.Stability;
import pourwright.units.Mass;

/** Rehearsals of the packaged program over real serial lines, in real time. */
@EnabledOnOs(OS.LINUX)
@Timeout(400)
class RehearseIT {
  private static final Duration START_LIMIT = Duration.ofSeconds(90);
  private static final Duration END_LIMIT = Duration.ofSeconds(60);

  /** In the middle of the second pour, which flows from 11 s to 16 s. */
  private static final double PULLED = 12.5;

  private static final double PUT_BACK = 14.5;
  private static final double OVER = 21;

  /** A scale goes on speaking until the program has seen enough. */
  private static final double LONGEST = 60;

  private static final String READY = "ready: the first water starts the clock";
  static final String PLAN =
      """
      format: 1
      title: Short one
      dose_g: 3
      water_g: 45
      pours:
        - {add_g: 20, flow_g_per_s: 5.0, start: {at_s: 0}}
        - {add_g: 25, flow_g_per_s: 5.0, start: {at_s: 9}}
      """;

  private final Path folder;

  RehearseIT(@TempDir Path folder) {
    this.folder = folder;
  }

  /** A tared rig, two pours of the plan from 2 s on, the lift at 19 s. */
  private static double grams(double at) {
    double first = Math.max(0, Math.min(20, (at - 2) * 5));
    double second = Math.max(0, Math.min(25, (at - 11) * 5));
    return first + second - (at > 19 ? 90 : 0);
  }

  /** A scale on a serial line that says what it weighs, ten times a second. */
  private static final class SpeakingScale {
    private final PseudoTerminal line;
    private final Encoder encoder;
    private final SplittableRandom noise = new SplittableRandom(3);

    SpeakingScale(PseudoTerminal line, String profile) {
      this.line = line;
      this.encoder = Profiles.shipped().find(profile).orElseThrow().newEncoder();
    }

    /** Says the weights of {@code from} to {@code to} seconds in real time. */
    void speak(double from, double to) throws InterruptedException {
      long zero = System.nanoTime() - Math.round(from * 1e9);
      for (double at = from; at < to; at = (System.nanoTime() - zero) / 1e9) {
        double grams = grams(at) + 0.1 * (noise.nextDouble() - 0.5);
        line.say(encoder.weight(Mass.ofGrams(grams), Stability.UNSTATED).toArray());
        Thread.sleep(100);
      }
    }
  }

  private Program rehearse(String name, PseudoTerminal line, String profile) throws IOException {
    Path plan = Files.writeString(folder.resolve(name + ".yaml"), PLAN);
    return Program.start(
        folder,
        name,
        "rehearse",
        plan.toString(),
        "--scale",
        "serial:" + line.path() + "?profile=" + profile,
        "--data",
        folder.resolve(name + "-data").toString(),
        "--no-page",
        "--format=json");
  }

  /** The only run of a journal, written as files. */
  private Path onlyRun(String name) throws IOException, InterruptedException {
    Path exported = folder.resolve(name + "-runs");
    Ran ran =
        Program.run(
            folder,
            name + "-export",
            "runs",
            "export",
            "--all",
            "--to",
            exported.toString(),
            "--data",
            folder.resolve(name + "-data").toString());
    assertThat(ran.status()).as(ran.err()).isZero();
    try (Stream<Path> runs = Files.list(exported)) {
      return runs.reduce(
              (one, other) -> {
                throw new AssertionError("two runs");
              })
          .orElseThrow();
    }
  }

  private JsonNode analysed(String name, Path recording) throws IOException, InterruptedException {
    Ran ran =
        Program.run(
            folder,
            name + "-analyse-" + recording.getFileName(),
            "analyse",
            recording.toString(),
            "--plan",
            folder.resolve(name + ".yaml").toString(),
            "--format=json");
    assertThat(ran.status()).as(ran.err()).isZero();
    return new ObjectMapper().readTree(ran.out());
  }

  /** Speaks a whole run into the program, with the cable pulled for a while where asked. */
  private JsonNode wholeRun(String profile, boolean isPulled)
      throws IOException, InterruptedException {
    try (PseudoTerminal line = PseudoTerminal.plugged(folder.resolve("port-" + profile));
        Program program = rehearse(profile, line, profile)) {
      SpeakingScale scale = new SpeakingScale(line, profile);
      Thread resting = new Thread(() -> rest(scale));
      resting.start();
      program.awaitTalk(READY, START_LIMIT);
      resting.interrupt();
      resting.join();
      if (isPulled) {
        scale.speak(0, PULLED);
        line.unplug();
        program.awaitTalk("scale lost", Duration.ofSeconds(4));
        Thread.sleep(Math.round((PUT_BACK - PULLED) * 500));
        line.plug();
        scale.speak(PUT_BACK, OVER);
      } else {
        scale.speak(0, OVER);
      }
      for (double at = OVER; program.isRunning() && at < LONGEST; at += 0.5) {
        scale.speak(at, at + 0.5);
      }
      Ran ran = program.end(END_LIMIT);
      assertThat(ran.status()).as(ran.err()).isZero();
      assertThat(ran.err().contains("scale is back")).isEqualTo(isPulled);
      return new ObjectMapper().readTree(ran.out());
    }
  }

  private static void rest(SpeakingScale scale) {
    try {
      while (true) {
        scale.speak(0, 0.5);
      }
    } catch (InterruptedException told) {
      Thread.currentThread().interrupt();
    }
  }

  @Test
  void runs_over_serial_lines_are_found_kept_and_replayed_alike_even_when_the_cable_is_pulled()
      throws Exception {
    List<String> profiles = List.of("number-unit", "status-comma", "binary-sum");
    ExecutorService benches = Executors.newFixedThreadPool(profiles.size());
    try {
      List<Future<JsonNode>> runs = new ArrayList<>();
      for (String profile : profiles) {
        Callable<JsonNode> run = () -> wholeRun(profile, profile.equals("status-comma"));
        runs.add(benches.submit(run));
      }
      for (int i = 0; i < profiles.size(); i++) {
        JsonNode told = runs.get(i).get();
        String profile = profiles.get(i);
        assertThat(told.path("pours")).as(profile).hasSize(2);
        assertThat(told.path("pours").path(0).path("poured_g").asDouble())
            .as(profile)
            .isCloseTo(20, within(0.7));
        assertThat(told.path("pours").path(1).path("poured_g").asDouble())
            .as(profile)
            .isCloseTo(25, within(0.7));
        // The pour that flowed while the cable was out is rebuilt from both its sides, and says so.
        assertThat(told.path("pours").path(1).path("across_gap").asBoolean())
            .as(profile)
            .isEqualTo(profile.equals("status-comma"));
        assertThat(told.path("lift").path("removed_g").asDouble())
            .as(profile)
            .isCloseTo(90, within(0.7));

        Path run = onlyRun(profile);
        JsonNode kept = new ObjectMapper().readTree(run.resolve("result.json").toFile());
        for (JsonNode again :
            List.of(
                kept,
                analysed(profile, run.resolve("whole.stream")),
                analysed(profile, run.resolve("trace.csv")))) {
          for (String part : List.of("pours", "lift", "drawdowns", "disturbances", "comparison")) {
            assertThat(again.path(part)).as(profile + " " + part).isEqualTo(told.path(part));
          }
        }
      }
    } finally {
      benches.shutdownNow();
    }
  }

  @Test
  void a_killed_run_is_recovered_whole_up_to_the_last_second() throws Exception {
    try (PseudoTerminal line = PseudoTerminal.plugged(folder.resolve("port"));
        Program program = rehearse("killed", line, "number-unit")) {
      SpeakingScale scale = new SpeakingScale(line, "number-unit");
      Thread resting = new Thread(() -> rest(scale));
      resting.start();
      program.awaitTalk(READY, START_LIMIT);
      resting.interrupt();
      resting.join();
      scale.speak(0, 9);
      program.kill();
    }

    Path run = onlyRun("killed");
    JsonNode told = new ObjectMapper().readTree(run.resolve("run.json").toFile());
    assertThat(told.path("ended").asText()).isEqualTo("cut_short");
    JsonNode recovered = new ObjectMapper().readTree(run.resolve("result.json").toFile());
    assertThat(recovered.path("pours")).hasSize(1);
    JsonNode raw = analysed("killed", run.resolve("whole.stream"));
    assertThat(raw.path("pours")).hasSize(1);
    assertThat(raw.path("pours").path(0).path("poured_g").asDouble()).isCloseTo(20, within(0.7));
    // The two files may end a few readings apart; what was announced before is the same.
    JsonNode traced = analysed("killed", run.resolve("trace.csv")).path("pours").path(0);
    for (String announced : List.of("start_announced_s", "end_announced_s")) {
      assertThat(traced.path(announced)).isEqualTo(raw.path("pours").path(0).path(announced));
    }
    List<String> lines = Files.readAllLines(run.resolve("whole.stream"));
    double last = Double.parseDouble(lines.get(lines.size() - 1).split(" ", 2)[0]);
    double start = raw.path("pours").path(0).path("start_s").asDouble();
    // The pour began at 2 s and the kill came at 9 s; one second may be lost.
    assertThat(last - start).isBetween(5.7, 7.5);
  }

  @Test
  void an_interrupt_ends_the_run_and_keeps_it() throws Exception {
    try (PseudoTerminal line = PseudoTerminal.plugged(folder.resolve("port"));
        Program program = rehearse("stopped", line, "bare-number")) {
      SpeakingScale scale = new SpeakingScale(line, "bare-number");
      Thread resting = new Thread(() -> rest(scale));
      resting.start();
      program.awaitTalk(READY, START_LIMIT);
      program.interrupt();
      Ran ran = program.end(END_LIMIT);
      resting.interrupt();
      resting.join();

      assertThat(ran.status()).as(ran.err()).isZero();
      Path run = onlyRun("stopped");
      JsonNode told = new ObjectMapper().readTree(run.resolve("run.json").toFile());
      assertThat(told.path("ended").asText()).isEqualTo("stopped");
      JsonNode kept = new ObjectMapper().readTree(run.resolve("result.json").toFile());
      assertThat(kept.path("pours")).isEmpty();
    }
  }

  @Test
  void a_missing_port_a_busy_port_and_a_folder_that_cannot_be_written_are_named_in_one_line()
      throws Exception {
    String data = "--data=" + folder.resolve("data");
    Ran missing =
        Program.run(
            folder,
            "missing",
            "rehearse",
            "--scale",
            "serial:/dev/no-such?profile=bare-number",
            data);
    assertThat(missing.status()).isEqualTo(1);
    assertThat(missing.err()).contains("/dev/no-such").doesNotContain("\tat ");
    assertThat(missing.err().lines()).hasSize(1);

    Path file = Files.writeString(folder.resolve("file"), "in the way");
    Ran unwritable =
        Program.run(
            folder,
            "unwritable",
            "rehearse",
            "--scale",
            "serial:/dev/no-such?profile=bare-number",
            "--data=" + file);
    assertThat(unwritable.status()).isEqualTo(1);
    assertThat(unwritable.err()).contains(file.toString(), "--data");
    assertThat(unwritable.err().lines()).hasSize(1);

    try (PseudoTerminal line = PseudoTerminal.plugged(folder.resolve("busy"));
        Program first = rehearse("first", line, "bare-number")) {
      line.say("0.0\r\n0.0\r\n");
      first.awaitTalk("scale heard", START_LIMIT);
      Ran second =
          Program.run(
              folder,
              "second",
              "rehearse",
              "--scale",
              "serial:" + line.path() + "?profile=bare-number",
              data);
      assertThat(second.status()).isEqualTo(1);
      assertThat(second.err()).contains(line.path());
      assertThat(second.err().lines()).hasSize(1);
    }
  }
}
