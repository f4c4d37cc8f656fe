package pourwright.device.protocol;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import pourwright.device.BleSettings;
import pourwright.device.Bytes;
import pourwright.device.Chunk;
import pourwright.device.Decoder;
import pourwright.device.Decoder.Decoded;
import pourwright.device.catalogue.Profiles;
import pourwright.reading.Stability;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/** What holds for every shape, whatever comes up the line. */
class DecoderPropertyTest {
  private static final int STREAM_BYTES = 4096;
  private static final int STREAMS = 50;

  static List<Profile> shipped() {
    return Profiles.shipped().list();
  }

  /** Those whose bytes come as a stream, which may be cut anywhere. */
  static List<Profile> streams() {
    return shipped().stream()
        .filter(profile -> profile.ble().filter(BleSettings::isMessageWise).isEmpty())
        .toList();
  }

  @ParameterizedTest
  @MethodSource("shipped")
  void weights_are_exactly_those_that_stand_whole_in_the_stream(Profile profile) {
    DecoderFuzz.Count count = DecoderFuzz.Count.NONE;
    for (long seed = 1; seed <= STREAMS; seed++) {
      count = count.plus(DecoderFuzz.check(profile, seed, STREAM_BYTES));
    }
    assertThat(count.bytes()).isGreaterThan(200_000);
    assertThat(count.weights()).isGreaterThan(1_000);
    assertThat(count.junk()).isGreaterThan(500);
  }

  @ParameterizedTest
  @MethodSource("streams")
  void any_cut_of_any_bytes_decodes_alike(Profile profile) {
    for (long seed = 1_000; seed < 1_040; seed++) {
      byte[] stream = new Noise(profile, seed).stream(1500);
      List<Decoded> whole = Wire.feed(profile.newDecoder(), stream);
      List<Decoded> cut = Wire.cut(profile.newDecoder(), stream, new SplittableRandom(seed));
      List<Decoded> single = new ArrayList<>();
      Decoder decoder = profile.newDecoder();
      for (byte one : stream) {
        single.addAll(decoder.feed(new Chunk(Wire.NOON, Bytes.copyOf(new byte[] {one}))));
      }
      assertThat(cut).as("seed %d", seed).isEqualTo(whole);
      assertThat(single).as("seed %d", seed).isEqualTo(whole);
    }
  }

  @ParameterizedTest
  @MethodSource("streams")
  void a_good_frame_after_garbage_is_read(Profile profile) {
    byte[] good =
        profile.newEncoder().weight(Mass.ofMilligrams(12_300), Stability.STABLE).toArray();
    for (long seed = 0; seed < 300; seed++) {
      Decoder decoder = profile.newDecoder();
      SplittableRandom random = new SplittableRandom(seed);
      byte[] garbage = new byte[random.nextInt(1, 400)];
      random.nextBytes(garbage);
      Wire.feed(decoder, garbage);
      // A text line needs the line end before it; every shape has one frame's grace.
      Wire.feed(decoder, good);
      assertThat(Wire.outcomes(Wire.feed(decoder, good))).as("seed %d", seed).contains("12.3 g");
    }
  }

  @ParameterizedTest
  @MethodSource("streams")
  void a_frame_cut_by_a_lost_link_joins_nothing(Profile profile) {
    Encoder encoder = profile.newEncoder();
    Bytes good = encoder.weight(Mass.ofMilligrams(45_600), Stability.STABLE);
    for (int cut = 1; cut < good.size(); cut++) {
      Decoder decoder = profile.newDecoder();
      Wire.feed(decoder, good.toArray());
      decoder.feed(new Chunk(Wire.NOON, Bytes.copyOf(good.toArray(), 0, cut)));
      decoder.reset();
      List<Decoded> rest =
          decoder.feed(new Chunk(Wire.NOON, Bytes.copyOf(good.toArray(), cut, good.size())));
      assertThat(rest).noneMatch(Decoded.Weighed.class::isInstance);
      assertThat(Wire.outcomes(Wire.feed(decoder, good.toArray()))).contains("45.6 g");
    }
  }

  @ParameterizedTest
  @MethodSource("streams")
  void a_message_is_read_by_itself_and_a_part_of_one_is_junk(Profile profile) {
    Bytes good = profile.newEncoder().weight(Mass.ofMilligrams(-7_800), Stability.STABLE);
    Decoder decoder = profile.newMessageDecoder();
    assertThat(Wire.outcomes(decoder.feed(new Chunk(Wire.NOON, good)))).contains("-7.8 g");
    if (!(profile.shape() instanceof TextLines)) {
      List<Decoded> part =
          decoder.feed(new Chunk(Wire.NOON, Bytes.copyOf(good.toArray(), 0, good.size() - 1)));
      assertThat(part).isNotEmpty().allMatch(Decoded.Junk.class::isInstance);
    }
    assertThat(Wire.outcomes(decoder.feed(new Chunk(Wire.NOON, good)))).contains("-7.8 g");
  }

  @ParameterizedTest
  @MethodSource("streams")
  void a_late_frame_bears_the_time_of_its_last_byte_and_a_repeated_one_is_read_again(
      Profile profile) {
    Bytes good = profile.newEncoder().weight(Mass.ofMilligrams(100), Stability.STABLE);
    byte[] bytes = good.toArray();
    Decoder decoder = profile.newDecoder();
    decoder.feed(new Chunk(SessionTime.ZERO, good));
    decoder.feed(new Chunk(SessionTime.ofMillis(10), Bytes.copyOf(bytes, 0, 3)));
    List<Decoded> late =
        new ArrayList<>(
            decoder.feed(
                new Chunk(SessionTime.ofMillis(900), Bytes.copyOf(bytes, 3, bytes.length))));
    late.addAll(decoder.feed(new Chunk(SessionTime.ofMillis(900), good)));
    assertThat(late)
        .extracting(Decoded::at)
        .containsExactly(SessionTime.ofMillis(900), SessionTime.ofMillis(900));
  }

  @Test
  void the_second_opinion_itself_tells_a_missed_weight() {
    byte[] stream = Wire.latin("\n12.5\n12.5.\n");
    assertThat(Recogniser.find("bare-number", stream))
        .containsExactly(new Recogniser.Found(6, 12_500_000_000L));
  }
}
