package pourwright.device.serial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Optional;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;
import pourwright.device.Bytes;
import pourwright.device.LineSettings;
import pourwright.device.LineSettings.FlowControl;
import pourwright.device.LineSettings.Parity;
import pourwright.device.SessionClock;
import pourwright.device.Transport.Arrival;

/** Over real pseudo-terminals. */
@EnabledOnOs(OS.LINUX)
@Timeout(60)
class SerialTransportTest {
  /** A loss must be known by then. */
  private static final double LOSS_LIMIT_SECONDS = 2.0;

  private final SessionClock clock = SessionClock.start();

  private SerialTransport open(PseudoTerminal line) throws IOException {
    return SerialTransport.open(line.path(), LineSettings.COMMON, Optional.empty(), clock);
  }

  /** Bytes until there are as many as asked for. */
  private static String hear(SerialTransport transport, int count) throws InterruptedException {
    StringBuilder heard = new StringBuilder();
    while (heard.length() < count) {
      if (next(transport) instanceof Arrival.Received received) {
        heard.append(new String(received.chunk().bytes().toArray(), StandardCharsets.ISO_8859_1));
      }
    }
    return heard.toString();
  }

  /** The next arrival that is no silence. */
  private static Arrival next(SerialTransport transport) throws InterruptedException {
    while (true) {
      Arrival arrival = transport.receive(Duration.ofSeconds(1));
      if (!(arrival instanceof Arrival.Silence)) {
        return arrival;
      }
    }
  }

  @Test
  void every_byte_value_passes_in_order(@TempDir Path folder) throws Exception {
    byte[] sent = new byte[20_000];
    new SplittableRandom(5).nextBytes(sent);
    try (PseudoTerminal line = PseudoTerminal.plugged(folder.resolve("scale"));
        SerialTransport transport = open(line)) {
      Thread scale = new Thread(() -> line.say(sent));
      scale.start();
      String heard = hear(transport, sent.length);
      scale.join();
      assertThat(heard.getBytes(StandardCharsets.ISO_8859_1)).isEqualTo(sent);
    }
  }

  @Test
  void bytes_wait_with_the_time_they_came_for_a_slow_taker(@TempDir Path folder) throws Exception {
    try (PseudoTerminal line = PseudoTerminal.plugged(folder.resolve("scale"));
        SerialTransport transport = open(line)) {
      line.say("1");
      Arrival first = next(transport);
      line.say("2");
      Thread.sleep(300); // the taker is busy; what it measures is the stamp, not this pause
      Arrival second = next(transport);
      assertThat(second.at().secondsSince(first.at())).isBetween(0.0, 0.25);
    }
  }

  @Test
  void a_quiet_moment_is_silence_at_the_present_time(@TempDir Path folder) throws Exception {
    try (PseudoTerminal line = PseudoTerminal.plugged(folder.resolve("scale"));
        SerialTransport transport = open(line)) {
      Arrival arrival = transport.receive(Duration.ofMillis(20));
      assertThat(arrival).isInstanceOf(Arrival.Silence.class);
      assertThat(arrival.at()).isLessThanOrEqualTo(clock.now());
    }
  }

  @Test
  void a_pulled_cable_is_told_once_and_the_port_is_taken_again(@TempDir Path folder)
      throws Exception {
    try (PseudoTerminal line = PseudoTerminal.plugged(folder.resolve("scale"));
        SerialTransport transport =
            SerialTransport.open(
                line.path(), LineSettings.COMMON, Optional.of(Bytes.ofAscii("GO\r")), clock)) {
      assertThat(line.heard(Duration.ofSeconds(2))).isEqualTo("GO\r");
      line.say("12.5\r\n");
      assertThat(hear(transport, 6)).isEqualTo("12.5\r\n");

      double pulled = clock.now().seconds();
      line.unplug();
      Arrival lost = next(transport);
      assertThat(lost)
          .isInstanceOfSatisfying(
              Arrival.Lost.class,
              said -> assertThat(said.why()).contains(line.path(), "unplugged", "plug it in"));
      assertThat(lost.at().seconds() - pulled).isLessThan(LOSS_LIMIT_SECONDS);
      assertThatThrownBy(() -> transport.send(Bytes.ofAscii("T")))
          .isInstanceOf(IOException.class)
          .hasMessageContaining("not connected");
      assertThat(transport.receive(Duration.ofMillis(300)))
          .as("a loss is told once")
          .isInstanceOf(Arrival.Silence.class);

      double plugged = clock.now().seconds();
      line.plug();
      assertThat(line.heard(Duration.ofSeconds(2))).isEqualTo("GO\r");
      line.say("13.0\r\n");
      assertThat(next(transport)).isInstanceOf(Arrival.Restored.class);
      Arrival back = next(transport);
      assertThat(back).isInstanceOf(Arrival.Received.class);
      assertThat(back.at().seconds() - plugged).isLessThan(LOSS_LIMIT_SECONDS);
      transport.send(Bytes.ofAscii("T\r"));
      assertThat(line.heard(Duration.ofSeconds(2))).isEqualTo("T\r");
    }
  }

  @Test
  void a_line_that_falls_silent_is_told_within_two_seconds_and_so_is_its_return(
      @TempDir Path folder) throws Exception {
    try (PseudoTerminal line = PseudoTerminal.plugged(folder.resolve("scale"));
        SerialTransport transport = open(line)) {
      line.say("12.5\r\n");
      hear(transport, 6);
      double silent = clock.now().seconds();
      Arrival lost = next(transport);
      assertThat(lost)
          .isInstanceOfSatisfying(
              Arrival.Lost.class,
              said -> assertThat(said.why()).contains(line.path(), "silent", "switched on"));
      assertThat(lost.at().seconds() - silent).isBetween(1.0, LOSS_LIMIT_SECONDS);
      line.say("12.5\r\n");
      assertThat(next(transport)).isInstanceOf(Arrival.Restored.class);
      assertThat(hear(transport, 6)).isEqualTo("12.5\r\n");
    }
  }

  @Test
  void a_scale_that_never_speaks_is_told_and_asked_again(@TempDir Path folder) throws Exception {
    try (PseudoTerminal line = PseudoTerminal.plugged(folder.resolve("scale"));
        SerialTransport transport =
            SerialTransport.open(
                line.path(), LineSettings.COMMON, Optional.of(Bytes.ofAscii("GO\r")), clock)) {
      assertThat(line.heard(Duration.ofSeconds(2))).isEqualTo("GO\r");
      assertThat(next(transport)).isInstanceOf(Arrival.Lost.class);
      assertThat(line.heard(Duration.ofSeconds(4))).isEqualTo("GO\r");
    }
  }

  @Test
  void a_path_that_leads_to_another_device_is_followed(@TempDir Path folder) throws Exception {
    try (PseudoTerminal line = PseudoTerminal.plugged(folder.resolve("scale"));
        SerialTransport transport = open(line);
        PseudoTerminal other = PseudoTerminal.plugged(folder.resolve("other"))) {
      Files.delete(folder.resolve("scale"));
      Files.createSymbolicLink(folder.resolve("scale"), Path.of(other.path()));
      assertThat(next(transport)).isInstanceOf(Arrival.Lost.class);
      other.say("7");
      assertThat(next(transport)).isInstanceOf(Arrival.Restored.class);
      assertThat(hear(transport, 1)).isEqualTo("7");
    }
  }

  @Test
  void any_line_settings_open(@TempDir Path folder) throws Exception {
    try (PseudoTerminal line = PseudoTerminal.plugged(folder.resolve("scale"));
        SerialTransport transport =
            SerialTransport.open(
                line.path(),
                new LineSettings(1200, 8, Parity.EVEN, 2, FlowControl.XON_XOFF),
                Optional.empty(),
                clock)) {
      line.say("1");
      assertThat(hear(transport, 1)).isEqualTo("1");
    }
  }

  @Test
  void a_port_that_cannot_be_had_is_named_with_what_to_do(@TempDir Path folder) throws Exception {
    Path missing = folder.resolve("ttyUSB9");
    assertThatThrownBy(() -> openAt(missing))
        .isInstanceOf(IOException.class)
        .hasMessageContainingAll(missing.toString(), "not there", "plug");
    Path plain = Files.createFile(folder.resolve("plain"));
    assertThatThrownBy(() -> openAt(plain))
        .isInstanceOf(IOException.class)
        .hasMessageContainingAll(plain.toString(), "no serial port");
    try (PseudoTerminal line = PseudoTerminal.plugged(folder.resolve("scale"));
        SerialTransport first = open(line)) {
      assertThat(first).isNotNull();
      assertThatThrownBy(() -> open(line))
          .isInstanceOf(IOException.class)
          .hasMessageContainingAll(line.path(), "in use", "close that program");
    }
  }

  @Test
  void a_port_that_another_program_holds_is_told_and_can_be_had_afterwards(@TempDir Path folder)
      throws Exception {
    try (PseudoTerminal line = PseudoTerminal.plugged(folder.resolve("scale"))) {
      try (AutoCloseable other = line.heldByAnother()) {
        assertThat(other).isNotNull();
        assertThatThrownBy(() -> open(line))
            .isInstanceOf(IOException.class)
            .hasMessageContainingAll(line.path(), "in use", "close that program");
      }
      open(line).close();
    }
  }

  private SerialTransport openAt(Path path) throws IOException {
    return SerialTransport.open(path.toString(), LineSettings.COMMON, Optional.empty(), clock);
  }

  @Test
  void a_closed_port_is_free_again(@TempDir Path folder) throws Exception {
    try (PseudoTerminal line = PseudoTerminal.plugged(folder.resolve("scale"))) {
      SerialTransport first = open(line);
      first.close();
      first.close();
      try (SerialTransport second = open(line)) {
        line.say("1");
        assertThat(hear(second, 1)).isEqualTo("1");
      }
    }
  }

  @Test
  void ports_are_listed_without_failing() {
    assertThat(Ports.list()).allSatisfy(port -> assertThat(port.path()).isNotBlank());
  }
}
