package pourwright.device.protocol;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import pourwright.device.Bytes;
import pourwright.device.LineSettings;
import pourwright.device.catalogue.Profiles;
import pourwright.device.protocol.Recognition.Capture;
import pourwright.device.protocol.Recognition.Fit;
import pourwright.reading.Stability;
import pourwright.units.Mass;

class RecognitionTest {
  private static final List<Profile> SHIPPED = Profiles.shipped().list();

  static List<Profile> onCables() {
    return SHIPPED.stream().filter(profile -> profile.ble().isEmpty()).toList();
  }

  private static byte[] spoken(Profile profile, int weights, int from) {
    Encoder encoder = profile.newEncoder();
    StringBuilder hex = new StringBuilder();
    for (int i = 0; i < weights; i++) {
      hex.append(encoder.weight(Mass.ofMilligrams(100L * i), Stability.MOVING).hex());
    }
    byte[] whole = Bytes.ofHex(hex.toString()).toArray();
    return Bytes.copyOf(whole, from, whole.length).toArray();
  }

  @ParameterizedTest
  @MethodSource("onCables")
  void a_scale_is_known_by_what_it_says_even_from_the_middle_of_a_frame(Profile profile) {
    Bytes heard = Bytes.copyOf(spoken(profile, 30, 4));
    List<Fit> fits = Recognition.rank(List.of(new Capture(profile.link(), heard)), SHIPPED);
    assertThat(fits.get(0).profile().name()).isEqualTo(profile.name());
    assertThat(fits.get(0).confidence()).isBetween(0.7, 1.0);
    assertThat(fits.get(0).weights()).isBetween(28, 30);
    assertThat(fits.get(0).goodShare()).isEqualTo(1.0);
    assertThat(fits.get(0).last()).isEqualTo(Mass.ofMilligrams(2900));
  }

  @Test
  void few_weights_are_less_sure_than_many_and_garbage_less_than_none() {
    Profile profile = Wire.shipped("status-comma");
    double few = confidence(profile, spoken(profile, 3, 0));
    double many = confidence(profile, spoken(profile, 40, 0));
    byte[] garbled = spoken(profile, 40, 0);
    for (int i = 30; i < garbled.length; i += 60) {
      garbled[i] = 0x7f;
    }
    assertThat(few).isLessThan(confidence(profile, garbled));
    assertThat(confidence(profile, garbled)).isLessThan(many);
  }

  private static double confidence(Profile profile, byte[] heard) {
    return Recognition.rank(
            List.of(new Capture(profile.link(), Bytes.copyOf(heard))), List.of(profile))
        .get(0)
        .confidence();
  }

  @Test
  void a_unit_that_was_not_said_leaves_a_doubt() {
    Profile bare = Wire.shipped("bare-number");
    Profile unit = Wire.shipped("number-unit");
    assertThat(confidence(bare, spoken(bare, 40, 0))).isLessThan(0.8);
    assertThat(confidence(unit, spoken(unit, 40, 0))).isGreaterThan(0.9);
    assertThat(confidence(unit, spoken(bare, 40, 0)))
        .isLessThan(confidence(bare, spoken(bare, 40, 0)));
  }

  @Test
  void weights_that_no_bench_scale_shows_are_not_believed() {
    Profile bare = Wire.shipped("bare-number");
    byte[] heavy = Wire.latin("\n" + "987654321.0\r\n".repeat(20));
    assertThat(confidence(bare, heavy)).isZero();
  }

  @Test
  void noise_fits_nothing_much() {
    byte[] noise = new byte[2000];
    new SplittableRandom(5).nextBytes(noise);
    assertThat(
            Recognition.rank(
                List.of(new Capture(LineSettings.COMMON, Bytes.copyOf(noise))), SHIPPED))
        .allMatch(fit -> fit.confidence() < 0.1);
  }

  @Test
  void the_right_line_settings_rank_above_those_that_garble() {
    Profile profile = Wire.shipped("number-unit");
    byte[] right = spoken(profile, 30, 0);
    byte[] garbled = right.clone();
    for (int i = 0; i < garbled.length; i++) {
      garbled[i] = (byte) (garbled[i] | (i % 3 == 0 ? 0x80 : 0));
    }
    LineSettings other = LineSettings.COMMON.withBaud(19_200);
    List<Fit> fits =
        Recognition.rank(
            List.of(
                new Capture(other, Bytes.copyOf(garbled)),
                new Capture(LineSettings.COMMON, Bytes.copyOf(right))),
            SHIPPED);
    assertThat(fits.get(0).link()).isEqualTo(LineSettings.COMMON);
    assertThat(fits).noneMatch(fit -> fit.link().equals(other));
  }

  @Test
  void a_frame_without_a_check_is_trusted_less() {
    Profile open =
        Wire.profile("binary: {header: a1 b2, length: 4, weight: {at: 2, bits: 16}, step: 0.1 g}");
    assertThat(confidence(open, spoken(open, 40, 0))).isBetween(0.8, 0.9);
  }

  @Test
  void every_line_worth_trying_is_tried_once() {
    List<LineSettings> links = Recognition.linksToTry(SHIPPED);
    assertThat(links).doesNotHaveDuplicates().startsWith(LineSettings.COMMON);
    assertThat(links).containsAll(onCables().stream().map(Profile::link).toList());
    assertThat(links).extracting(LineSettings::baud).contains(1200, 19_200, 115_200);
  }
}
