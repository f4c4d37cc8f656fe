package pourwright.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.function.IntFunction;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import pourwright.device.catalogue.Profiles;
import pourwright.device.protocol.Encoder;
import pourwright.device.serial.PseudoTerminal;
import pourwright.reading.Stability;
import pourwright.units.Mass;

/** The packaged program finds out how to read a scale on a real serial line. */
@EnabledOnOs(OS.LINUX)
@Timeout(120)
class ListenIT {
  private static final int EVERY_MILLIS = 50;

  private final Path folder;

  ListenIT(@TempDir Path folder) {
    this.folder = folder;
  }

  /** Listens while the line says {@code saying.apply(0)}, {@code saying.apply(1)} and so on. */
  private Ran listen(PseudoTerminal line, IntFunction<byte[]> saying)
      throws IOException, InterruptedException {
    Thread talker =
        new Thread(
            () -> {
              try {
                for (int i = 0; true; i++) {
                  line.say(saying.apply(i));
                  Thread.sleep(EVERY_MILLIS);
                }
              } catch (InterruptedException told) {
                Thread.currentThread().interrupt();
              }
            });
    talker.start();
    try {
      return Program.run(
          folder,
          "listen",
          "scales",
          "--listen",
          line.path(),
          "--data",
          folder.resolve("data").toString());
    } finally {
      talker.interrupt();
      talker.join();
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"status-comma", "binary-crc"})
  void a_speaking_scale_is_recognised_by_its_bytes(String profile) throws Exception {
    Encoder encoder = Profiles.shipped().find(profile).orElseThrow().newEncoder();
    try (PseudoTerminal line = PseudoTerminal.plugged(folder.resolve("port"))) {
      Ran ran =
          listen(
              line, i -> encoder.weight(Mass.ofGrams(200 + i / 10.0), Stability.STABLE).toArray());

      assertThat(ran.status()).as(ran.err()).isZero();
      String best = ran.out().lines().findFirst().orElse("");
      assertThat(best).as(ran.out()).contains("sure: " + profile + " at ");
      assertThat(Integer.parseInt(best.substring(0, 3).strip())).isGreaterThan(80);
      assertThat(ran.out()).contains("'serial:" + line.path() + "?profile=" + profile);
    }
  }

  @Test
  void bytes_that_no_profile_reads_are_told_apart_from_silence() throws Exception {
    try (PseudoTerminal line = PseudoTerminal.plugged(folder.resolve("port"))) {
      Ran ran = listen(line, i -> "no weight here\r\n".getBytes(StandardCharsets.US_ASCII));

      assertThat(ran.status()).isEqualTo(1);
      assertThat(ran.err()).contains(line.path(), "no profile reads them");
      assertThat(ran.out()).isEmpty();
    }
  }

  @Test
  void a_silent_line_is_told_with_what_to_look_at() throws Exception {
    try (PseudoTerminal line = PseudoTerminal.plugged(folder.resolve("port"))) {
      Ran ran = listen(line, i -> new byte[0]);

      assertThat(ran.status()).isEqualTo(1);
      assertThat(ran.err()).contains(line.path(), "nothing came", "switched on");
    }
  }
}
