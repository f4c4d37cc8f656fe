package pourwright.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.SplittableRandom;
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

/**
 * A whole check by the packaged program over a real serial line, in real time: the scale on the
 * other end is loaded by somebody who reads what the program says.
 */
@EnabledOnOs(OS.LINUX)
@Timeout(400)
class CheckScaleIT {
  private static final Duration START_LIMIT = Duration.ofSeconds(90);
  private static final Duration END_LIMIT = Duration.ofMinutes(5);
  private static final long PERIOD_MILLIS = 50;
  private static final double LAG_SECONDS = 0.15;
  private static final double TOO_MUCH_SHARE = 0.004;
  private static final double[] WEIGHTS = {50, 200};

  private final Path folder;

  CheckScaleIT(@TempDir Path folder) {
    this.folder = folder;
  }

  /** A first-order scale that shows 0.4 % too much, and the hand that loads it. */
  private static final class LoadedScale implements Runnable {
    private final PseudoTerminal line;
    private final Path talk;
    private final Encoder encoder =
        Profiles.shipped().find("status-comma").orElseThrow().newEncoder();
    private final SplittableRandom random = new SplittableRandom(17);
    private double load;
    private double shown;
    private int read;
    private long doAt = Long.MAX_VALUE;
    private double change;
    private long saidAt = System.nanoTime();

    LoadedScale(PseudoTerminal line, Path talk) {
      this.line = line;
      this.talk = talk;
    }

    @Override
    public void run() {
      try {
        while (!Thread.currentThread().isInterrupted()) {
          read();
          if (System.nanoTime() > doAt) {
            load += change;
            doAt = Long.MAX_VALUE;
          }
          long now = System.nanoTime();
          double keep = Math.exp(-(now - saidAt) / 1e9 / LAG_SECONDS);
          saidAt = now;
          shown = keep * shown + (1 - keep) * load * (1 + TOO_MUCH_SHARE);
          double said = Math.rint((shown + 0.03 * random.nextGaussian()) * 10) / 10;
          line.say(encoder.weight(Mass.ofGrams(said), Stability.UNSTATED).toArray());
          Thread.sleep(PERIOD_MILLIS);
        }
      } catch (InterruptedException | IOException over) {
        Thread.currentThread().interrupt();
      }
    }

    /** New lines of what the program says; the last ask counts. */
    private void read() throws IOException {
      String all = Files.readString(talk);
      String fresh = all.substring(read);
      int end = fresh.lastIndexOf('\n') + 1;
      read += end;
      for (String said : fresh.substring(0, end).lines().toList()) {
        if (said.contains("Put on the ")) {
          plan(weight(said), 900);
        } else if (said.contains("Take off the ") && !said.contains("third beat")) {
          plan(-weight(said), 900);
        } else if (said.contains("OFF")) {
          plan(-load, 0);
        }
      }
    }

    private void plan(double grams, long millis) {
      change = grams;
      doAt = System.nanoTime() + millis * 1_000_000;
    }

    private double weight(String said) {
      for (double weight : WEIGHTS) {
        if (said.contains(" the " + Math.round(weight) + " g weight")) {
          return weight;
        }
      }
      throw new AssertionError("no weight in: " + said);
    }
  }

  private static JsonNode figure(JsonNode check, String key) {
    for (JsonNode figure : check.path("figures")) {
      if (figure.path("key").asText().equals(key)) {
        return figure;
      }
    }
    throw new AssertionError("no " + key + " in " + check);
  }

  @Test
  void a_whole_check_over_a_serial_line_finds_the_lag_and_the_error_of_the_scale()
      throws Exception {
    Path data = folder.resolve("data");
    try (PseudoTerminal line = PseudoTerminal.plugged(folder.resolve("port"));
        Program program =
            Program.start(
                folder,
                "check",
                "check-scale",
                "--scale",
                "serial:" + line.path() + "?profile=status-comma",
                "--weight=50:M1",
                "--weight=200:M1",
                "--length=quick",
                "--lines",
                "--no-page",
                "--format=json",
                "--data=" + data)) {
      Thread scale = new Thread(new LoadedScale(line, folder.resolve("check.err")), "scale");
      scale.setDaemon(true);
      scale.start();
      program.awaitTalk("Leave the scale empty", START_LIMIT);
      Ran ran = program.end(END_LIMIT);
      scale.interrupt();
      scale.join();

      assertThat(ran.status()).as(ran.err()).isZero();
      JsonNode check = new ObjectMapper().readTree(ran.out());
      assertThat(check.path("whole").asBoolean()).isTrue();
      assertThat(figure(check, "error_at_250_g").path("value").asDouble())
          .isCloseTo(250 * TOO_MUCH_SHARE, within(0.1));
      assertThat(figure(check, "filter_lag_s").path("value").asDouble())
          .isCloseTo(LAG_SECONDS, within(0.06));
      assertThat(figure(check, "rate_per_s").path("value").asDouble()).isBetween(10.0, 20.5);
    }
    try (Stream<Path> kept = Files.walk(data.resolve("scales"))) {
      assertThat(kept.filter(file -> file.toString().endsWith(".json"))).hasSize(1);
    }
  }
}
