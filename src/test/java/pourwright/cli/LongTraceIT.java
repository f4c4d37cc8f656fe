package pourwright.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.BufferedWriter;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.SplittableRandom;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** The packaged program on a scale that was left running: 35 hours at 80 weights a second. */
class LongTraceIT {
  private static final int LIMIT_SECONDS = 600;
  private static final int LINES_PER_SECOND = 80;
  private static final double[][] POURS = {{5, 42, 5}, {53, 66, 6}, {94, 78, 6}, {135, 78, 6}};

  private final Path folder;

  LongTraceIT(@TempDir Path folder) {
    this.folder = folder;
  }

  private Ran analyse(String memory, int lines) throws IOException, InterruptedException {
    Path out = folder.resolve("out");
    Path err = folder.resolve("err");
    Process program =
        new ProcessBuilder(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                memory,
                "-jar",
                Program.jar().toString(),
                "analyse",
                "-",
                "--format=json")
            .redirectOutput(out.toFile())
            .redirectError(err.toFile())
            .start();
    try (BufferedWriter in = program.outputWriter(StandardCharsets.US_ASCII)) {
      write(in, lines);
    } catch (IOException gone) {
      // It may end before it has heard everything; how it ended is what counts.
    }
    assertThat(program.waitFor(LIMIT_SECONDS, TimeUnit.SECONDS)).isTrue();
    return new Ran(program.exitValue(), Files.readString(out), Files.readString(err));
  }

  @Test
  @Timeout(LIMIT_SECONDS)
  void where_memory_is_short_one_line_says_so() throws Exception {
    Ran ran = analyse("-Xmx24m", 2_000_000);
    assertThat(ran.status()).isEqualTo(1);
    assertThat(ran.out()).isEmpty();
    assertThat(ran.err().lines()).hasSize(1);
    assertThat(ran.err()).contains("memory", "-Xmx");
  }

  @Test
  @Timeout(LIMIT_SECONDS)
  void ten_million_lines_are_analysed_within_a_gigabyte() throws Exception {
    Ran ran = analyse("-Xmx1g", 10_000_000);
    assertThat(ran.err()).isEmpty();
    assertThat(ran.status()).isZero();
    JsonNode found = new ObjectMapper().readTree(ran.out());
    assertThat(found.path("pours")).hasSize(POURS.length);
    for (int i = 0; i < POURS.length; i++) {
      JsonNode pour = found.path("pours").path(i);
      assertThat(pour.path("start_s").asDouble()).isCloseTo(POURS[i][0], within(0.3));
      assertThat(pour.path("poured_g").asDouble()).isCloseTo(POURS[i][1], within(0.5));
    }
  }

  /** One rehearsal, lifted after three minutes, and nothing but noise from then on. */
  private static void write(BufferedWriter lines, int count) throws IOException {
    SplittableRandom noise = new SplittableRandom(11);
    lines.write("time_s,mass_g\n");
    for (int i = 0; i < count; i++) {
      double at = i / (double) LINES_PER_SECOND;
      double grams = at > 185 ? -160 : 0;
      for (double[] pour : POURS) {
        grams += Math.max(0, Math.min(pour[1], (at - pour[0]) * pour[2]));
      }
      long centigrams = Math.round(100 * grams) + noise.nextInt(11) - 5;
      lines.write(decimal(i * 125L, 4));
      lines.write(',');
      lines.write(decimal(centigrams, 2));
      lines.write('\n');
    }
  }

  private static String decimal(long value, int places) {
    String digits = String.valueOf(Math.abs(value));
    String padded = "0".repeat(Math.max(0, places + 1 - digits.length())) + digits;
    int point = padded.length() - places;
    return (value < 0 ? "-" : "") + padded.substring(0, point) + "." + padded.substring(point);
  }
}
