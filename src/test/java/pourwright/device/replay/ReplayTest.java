package pourwright.device.replay;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import pourwright.device.Bytes;
import pourwright.device.Chunk;
import pourwright.device.Decoder;
import pourwright.device.Decoder.Decoded;
import pourwright.device.Transport.Arrival;
import pourwright.device.catalogue.Profiles;
import pourwright.reading.Reading;
import pourwright.reading.Stability;
import pourwright.recording.BadRecording;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

class ReplayTest {
  private static final Duration PATIENCE = Duration.ofMillis(5);

  /** Everything but silence, to the end. */
  private static List<Arrival> play(PlayedTransport transport) throws InterruptedException {
    List<Arrival> all = new ArrayList<>();
    SessionTime last = SessionTime.ofNanos(Long.MIN_VALUE);
    while (true) {
      Arrival arrival = transport.receive(PATIENCE);
      assertThat(arrival.at()).isGreaterThanOrEqualTo(last);
      last = arrival.at();
      if (!(arrival instanceof Arrival.Silence)) {
        all.add(arrival);
      }
      if (arrival instanceof Arrival.Ended) {
        return all;
      }
    }
  }

  private static List<Reading> decode(Replay replay) throws InterruptedException {
    Decoder decoder =
        Profiles.shipped().find(replay.profile().orElseThrow()).orElseThrow().newDecoder();
    List<Reading> readings = new ArrayList<>();
    for (Arrival arrival : play(replay.transport())) {
      if (arrival instanceof Arrival.Received received) {
        for (Decoded decoded : decoder.feed(received.chunk())) {
          assertThat(decoded).isInstanceOf(Decoded.Weighed.class);
          readings.add(((Decoded.Weighed) decoded).reading());
        }
      }
    }
    return readings;
  }

  private static Path stream(Path folder) throws IOException {
    return Files.writeString(
        folder.resolve("wire.stream"),
        """
        #profile: bare-number
        #rig: split
        #place: server
        2.000 0a312e350a
        2.050 322e350a
        #link-lost: 2.06 gone
        #link-restored: 2.09
        2.100 332e350a
        """);
  }

  @ParameterizedTest
  @ValueSource(doubles = {0, 1, 20})
  void a_stream_plays_as_it_was_at_any_speed(double speed, @TempDir Path folder) throws Exception {
    Replay replay = Replay.open(stream(folder), Place.WHOLE, speed);
    assertThat(replay.profile()).contains("bare-number");
    assertThat(replay.rig()).contains(Rig.SPLIT);
    assertThat(replay.places()).isEqualTo(Set.of(Place.SERVER));
    assertThat(play(replay.transport()))
        .containsExactly(
            received(2000, "\n1.5\n"),
            received(2050, "2.5\n"),
            new Arrival.Lost(SessionTime.ofMillis(2060), "gone"),
            new Arrival.Restored(SessionTime.ofMillis(2090)),
            received(2100, "3.5\n"),
            new Arrival.Ended(SessionTime.ofMillis(2100)));
    replay.transport().close();
  }

  private static Arrival received(long millis, String ascii) {
    return new Arrival.Received(new Chunk(SessionTime.ofMillis(millis), Bytes.ofAscii(ascii)));
  }

  @Test
  void at_speed_one_a_stream_takes_as_long_as_it_took(@TempDir Path folder) throws Exception {
    Replay replay = Replay.open(stream(folder), Place.WHOLE, 1);
    long start = System.nanoTime();
    play(replay.transport());
    assertThat(System.nanoTime() - start).isGreaterThan(95_000_000L);
  }

  @Test
  void a_trace_is_spoken_exactly(@TempDir Path folder) throws Exception {
    Path file =
        Files.writeString(
            folder.resolve("brew.csv"), "time_s,mass_g\n1.5,-0.1\n1.600000001,312.345678901\n");
    Replay replay = Replay.open(file, Place.WHOLE, 0);
    assertThat(replay.rig()).isEmpty();
    assertThat(decode(replay))
        .containsExactly(
            new Reading(SessionTime.ofMillis(1500), Mass.ofMilligrams(-100)),
            new Reading(SessionTime.ofNanos(1_600_000_001L), Mass.ofNanograms(312_345_678_901L)));
  }

  @Test
  void a_trace_of_two_scales_plays_each_of_them_with_its_stability(@TempDir Path folder)
      throws Exception {
    Path file =
        Files.writeString(
            folder.resolve("brew.csv"),
            "time_s,mass_g,scale,stable\n0,1,whole,1\n0,2,server,0\n1,3,whole,0\n");
    Replay whole = Replay.open(file, Place.WHOLE, 0);
    assertThat(whole.rig()).contains(Rig.SPLIT);
    assertThat(decode(whole))
        .containsExactly(
            new Reading(SessionTime.ZERO, Mass.ofMilligrams(1000), Stability.STABLE),
            new Reading(SessionTime.ofMillis(1000), Mass.ofMilligrams(3000), Stability.MOVING));
    assertThat(decode(Replay.open(file, Place.SERVER, 0)))
        .containsExactly(new Reading(SessionTime.ZERO, Mass.ofMilligrams(2000), Stability.MOVING));
  }

  @Test
  void a_recording_that_cannot_be_played_is_named(@TempDir Path folder) throws Exception {
    assertThatThrownBy(() -> Replay.open(folder.resolve("no.csv"), Place.WHOLE, 1))
        .isInstanceOf(BadRecording.class)
        .hasMessageContaining("no such file");
    Path text = Files.writeString(folder.resolve("text"), "hello\n");
    assertThatThrownBy(() -> Replay.open(text, Place.WHOLE, 1))
        .isInstanceOf(BadRecording.class)
        .hasMessageContaining("time_s");
    Path whole = Files.writeString(folder.resolve("whole.csv"), "time_s,mass_g,scale\n0,1,whole\n");
    assertThatThrownBy(() -> Replay.open(whole, Place.SERVER, 1))
        .isInstanceOf(BadRecording.class)
        .hasMessageContaining("no weights of the scale server");
  }

  @Test
  void a_stream_that_turns_bad_is_told_as_lost_with_its_line_and_then_ends(@TempDir Path folder)
      throws Exception {
    Path file = Files.writeString(folder.resolve("bad.stream"), "1.0 31\nnonsense\n2.0 32\n");
    List<Arrival> all = play(Replay.open(file, Place.WHOLE, 0).transport());
    assertThat(all).hasSize(3);
    assertThat(all.get(1))
        .isInstanceOfSatisfying(
            Arrival.Lost.class, lost -> assertThat(lost.why()).contains("bad.stream line 2"));
    assertThat(all.get(2)).isInstanceOf(Arrival.Ended.class);
  }

  @Test
  void impossible_speeds_are_refused() {
    for (double speed : new double[] {-1, Double.NaN, Double.POSITIVE_INFINITY}) {
      assertThatThrownBy(() -> new PlayedTransport(Optional::empty, speed))
          .isInstanceOf(IllegalArgumentException.class);
    }
  }
}
