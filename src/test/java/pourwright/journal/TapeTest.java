package pourwright.journal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import pourwright.device.Bytes;
import pourwright.device.Chunk;
import pourwright.device.Transport.Arrival;
import pourwright.reading.Reading;
import pourwright.reading.Stability;
import pourwright.recording.Trace;
import pourwright.rig.Place;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

class TapeTest {
  /** A bare load-cell board on a real link: 80 readings a second, later by chance. */
  private static final int READINGS_PER_SECOND = 80;

  private static final double JITTER_MICROS = 1_000;
  private static final double NOISE_GRAMS = 0.03;

  private static final List<Stability> STABILITIES = List.of(Stability.values());

  static LongStream seeds() {
    return LongStream.range(0, 40);
  }

  private static Trace read(byte[]... tapes) {
    Trace.Builder rows = new Trace.Builder();
    for (byte[] tape : tapes) {
      WeightTape.read(tape, Place.WHOLE, rows);
    }
    return rows.build();
  }

  /** Anything a scale may say, the impossible included. */
  @ParameterizedTest
  @MethodSource("seeds")
  void any_weights_come_back_as_they_were(long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    WeightTape tape = new WeightTape();
    List<Reading> said = new ArrayList<>();
    long nanos = random.nextLong(2) * random.nextLong(1_000_000_000);
    long step = List.of(1L, 1_000L, 12_345L, 100_000_000L).get(random.nextInt(4));
    int count = random.nextInt(600);
    for (int i = 0; i < count; i++) {
      nanos += random.nextInt(10) == 0 ? 0 : step * random.nextLong(1_000);
      long mass =
          random.nextInt(50) == 0
              ? random.nextLong(-4_000_000_000_000_000L, 4_000_000_000_000_000L)
              : 100_000_000L * random.nextLong(-3_000, 30_000);
      Stability stability = STABILITIES.get(random.nextInt(STABILITIES.size()));
      Reading reading = new Reading(SessionTime.ofNanos(nanos), Mass.ofNanograms(mass), stability);
      said.add(reading);
      tape.add(reading);
    }
    int cut = count == 0 ? 0 : random.nextInt(count);
    WeightTape first = new WeightTape();
    said.subList(0, cut).forEach(first::add);

    Trace back = read(first.write(0), tape.write(cut));
    assertThat(back.size()).isEqualTo(count);
    for (int i = 0; i < count; i++) {
      assertThat(back.readingAt(i)).isEqualTo(said.get(i));
    }
  }

  @Test
  void an_ordinary_trace_at_80_readings_a_second_takes_less_than_3_bytes_a_reading() {
    SplittableRandom random = new SplittableRandom(11);
    WeightTape tape = new WeightTape();
    int count = 240 * READINGS_PER_SECOND;
    for (int i = 0; i < count; i++) {
      double late = JITTER_MICROS * Math.abs(random.nextGaussian());
      long micros = Math.round(i * 1e6 / READINGS_PER_SECOND + late);
      double poured = Math.min(264, Math.max(0, (i / (double) READINGS_PER_SECOND - 12) * 1.5));
      long hundredths = Math.round((poured + NOISE_GRAMS * random.nextGaussian()) * 100);
      tape.add(new Reading(SessionTime.ofMicros(micros), Mass.ofMilligrams(10 * hundredths)));
    }
    assertThat(tape.write(0).length / (double) count).isLessThan(3.0).isGreaterThan(1.0);
  }

  @ParameterizedTest
  @MethodSource("seeds")
  void anything_on_the_wire_comes_back_as_it_was(long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    WireTape tape = new WireTape();
    List<Arrival> came = new ArrayList<>();
    long nanos = 0;
    int count = random.nextInt(200);
    for (int i = 0; i < count; i++) {
      nanos += random.nextLong(200_000_000);
      SessionTime at = SessionTime.ofNanos(nanos);
      byte[] bytes = new byte[1 + random.nextInt(40)];
      random.nextBytes(bytes);
      Arrival arrival =
          switch (random.nextInt(8)) {
            case 0 -> new Arrival.Lost(at, "gone: “unplugged” at " + i);
            case 1 -> new Arrival.Restored(at);
            default -> new Arrival.Received(new Chunk(at, Bytes.copyOf(bytes)));
          };
      came.add(arrival);
      tape.add(arrival);
    }
    int cut = count == 0 ? 0 : random.nextInt(count);
    WireTape first = new WireTape();
    came.subList(0, cut).forEach(first::add);
    List<Arrival> back = new ArrayList<>();
    WireTape.read(first.write(0), back::add);
    WireTape.read(tape.write(cut), back::add);
    assertThat(back).isEqualTo(came);
  }

  @Test
  void a_tape_that_is_cut_off_is_refused_and_not_read_as_something_else() {
    WeightTape tape = new WeightTape();
    for (int i = 0; i < 50; i++) {
      tape.add(new Reading(SessionTime.ofMillis(100L * i), Mass.ofMilligrams(37L * i * i)));
    }
    byte[] whole = tape.write(0);
    for (int length = 0; length < whole.length - 1; length++) {
      byte[] cut = Arrays.copyOf(whole, length);
      assertThatThrownBy(() -> read(cut)).isInstanceOf(UncheckedIOException.class);
    }
  }
}
