package pourwright.performance;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class RoundingTest {
  private static final double STEP = 0.1;

  private static double shown(double grams) {
    return Math.rint(grams / STEP) * STEP;
  }

  private static List<Plateau> plateaus(double noise, int count, SplittableRandom random) {
    List<Plateau> plateaus = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      double level = 10 * random.nextDouble();
      double[] seconds = new double[16];
      double[] grams = new double[16];
      for (int k = 0; k < 16; k++) {
        seconds[k] = k * 0.1;
        grams[k] = shown(level + noise * random.nextGaussian());
      }
      plateaus.add(Plateau.of(Series.of(seconds, grams)));
    }
    return plateaus;
  }

  /** EURAMET cg-18, 7.1.1 (from memory): d 0.1 g → d/√12 = 0.0288675 g. */
  @Test
  void a_quiet_display_is_off_by_a_step_over_root_twelve() {
    assertThat(Math.sqrt(Rounding.variance(STEP, 0))).isCloseTo(0.0288675, within(1e-7));
    assertThat(Rounding.variance(0, 0.1)).isZero();
    // the series itself comes to the same, up to its last harmonic
    assertThat(Rounding.variance(STEP, 1e-9)).isCloseTo(STEP * STEP / 12, within(2e-5));
  }

  @ParameterizedTest
  @ValueSource(doubles = {0.01, 0.02, 0.03, 0.05})
  void noise_blurs_the_steps_as_much_as_a_simulation_says(double noise) {
    SplittableRandom random = new SplittableRandom(3);
    double squares = 0;
    int trials = 2_000;
    int readings = 400;
    for (int i = 0; i < trials; i++) {
      double level = random.nextDouble();
      double sum = 0;
      for (int k = 0; k < readings; k++) {
        sum += shown(level + noise * random.nextGaussian());
      }
      squares += Math.pow(sum / readings - level, 2);
    }
    double expected =
        Rounding.variance(STEP, noise) + (noise * noise + STEP * STEP / 12) / readings;
    assertThat(squares / trials).isCloseTo(expected, within(0.25 * expected));
  }

  @ParameterizedTest
  @ValueSource(doubles = {0.03, 0.05, 0.1, 0.3})
  void the_noise_behind_the_steps_is_found_again(double noise) {
    double found = Rounding.noiseBehind(plateaus(noise, 200, new SplittableRandom(8)), STEP);
    assertThat(found).isCloseTo(noise, within(0.1 * noise));
  }

  @Test
  void a_display_that_never_flickers_has_no_noise_to_be_seen() {
    List<Plateau> quiet = plateaus(0, 20, new SplittableRandom(1));
    assertThat(Rounding.noiseBehind(quiet, STEP)).isZero();
    Display display = Display.of(quiet, STEP);
    assertThat(display.noise().low()).isZero();
    assertThat(display.noise().high()).isGreaterThan(0.02);
    assertThat(display.roundingUncertainty()).isCloseTo(0.0288675, within(1e-6));
    assertThat(display.plateauUncertainty(16)).isCloseTo(0.0288675, within(1e-6));
    assertThat(display.leastChangeGrams()).isCloseTo(2.7718 * 0.0288675, within(1e-4));
    assertThat(Rounding.pooledVariance(List.of())).isZero();
  }

  @Test
  void a_noisy_display_is_blurred_as_far_as_its_noise_is_sure() {
    Display noisy = Display.of(plateaus(0.12, 60, new SplittableRandom(2)), STEP);
    assertThat(noisy.noise().covers(0.12)).isTrue();
    assertThat(noisy.roundingUncertainty()).isLessThan(0.0005);
  }

  @Test
  void the_step_is_the_least_change_ever_shown() {
    Series shown = Series.of(new double[] {0, 1, 2, 3, 4}, new double[] {0, 0.3, 100.5, 0.1, 0.1});
    assertThat(Rounding.findStep(shown)).hasValue(0.1);
    assertThat(Rounding.findStep(shown.slice(0, 1))).isEmpty();
    assertThat(Rounding.findStep(shown.slice(3, 5))).isEmpty();
  }

  @Test
  void readings_are_taken_in_order_and_cut_by_time() {
    Series series = Series.of(new double[] {0, 1, 1, 3}, new double[] {5, 6, 7, 8});
    assertThat(series.between(0.5, 2).size()).isEqualTo(2);
    assertThat(series.between(4, 5).span()).isZero();
    assertThat(series.span()).isEqualTo(3);
    assertThatThrownBy(() -> Series.of(new double[] {1, 0}, new double[2]))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> Series.of(new double[1], new double[2]))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> Plateau.of(series.slice(0, 2)))
        .isInstanceOf(IllegalArgumentException.class);
    Plateau burst = Plateau.of(Series.of(new double[] {2, 2, 2}, new double[] {1, 2, 3}));
    assertThat(burst.deviation()).isEqualTo(1);
    assertThat(burst.at()).isEqualTo(2);
  }
}
