package pourwright.performance;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;

/** Delivery, repeatability, linearity, drift and slow water from readings by hand. */
class FiguresTest {
  private static final Display FINE = display(0.01, 0.02);

  private static Display display(double step, double noise) {
    return new Display(step, Estimate.of(noise, 0.001, Double.POSITIVE_INFINITY), 0.1);
  }

  private static Plateau plateau(double at, double grams) {
    return new Plateau(at - 0.5, at + 0.5, grams, 0.02, 16);
  }

  @Test
  void rate_gaps_and_bursts_are_counted() {
    double[] seconds = new double[80];
    for (int i = 0; i < 80; i++) {
      seconds[i] = Math.floor(i / 2.0) * 0.2 + (i >= 40 ? 1.0 : 0);
    }
    Delivery found = Delivery.of(Series.of(seconds, new double[80]), List.of());
    assertThat(found.perSecond().covers(10)).isTrue();
    assertThat(found.perArrival()).isEqualTo(2);
    assertThat(found.gaps()).isEqualTo(1);
    assertThat(found.longestGapSeconds()).isCloseTo(1.2, within(1e-9));
    assertThat(found.jitterSeconds()).isCloseTo(0, within(1e-6));
    assertThat(found.freshShare()).isEqualTo(1);
    assertThatThrownBy(() -> Delivery.of(Series.of(new double[6], new double[6]), List.of()))
        .isInstanceOf(IllegalArgumentException.class);
  }

  @Test
  void a_scale_that_says_everything_twice_is_found_out() {
    double[] seconds = new double[40];
    double[] grams = new double[40];
    for (int i = 0; i < 40; i++) {
      seconds[i] = i * 0.1;
      grams[i] = Math.min(200, Math.max(0, (i / 2 - 5) * 20));
    }
    Series twice = Series.of(seconds, grams);
    StepTrace trace = new StepTrace(twice, 0, 200, OptionalDouble.empty());
    assertThat(Delivery.of(twice, List.of(trace)).freshShare()).isCloseTo(0.5, within(0.06));
  }

  @Test
  void repeatability_is_the_standard_deviation_of_the_placings() {
    double[] added = {100.0, 100.2, 99.9, 100.1, 100.1, 99.7};
    Repeatability found = Repeatability.of(added, FINE);
    assertThat(found.deviation().value()).isCloseTo(0.17889, within(1e-5));
    assertThat(found.range()).isCloseTo(0.5, within(1e-9));
    assertThat(found.deviation().low()).isPositive();
  }

  @Test
  void placings_that_all_round_alike_give_an_upper_limit_only() {
    Repeatability found = Repeatability.of(new double[] {100, 100, 100}, display(1, 0));
    assertThat(found.deviation().value()).isZero();
    assertThat(found.deviation().low()).isZero();
    assertThat(found.deviation().high()).isGreaterThan(1 / Math.sqrt(12));
  }

  @Test
  void a_scale_that_shows_too_much_of_everything_is_straight() {
    List<LoadError> errors = new ArrayList<>();
    for (double load : new double[] {50, 100, 200}) {
      errors.add(new LoadError(load, Estimate.of(0.004 * load, 0.02, Double.POSITIVE_INFINITY)));
    }
    Linearity line = Linearity.of(errors);
    assertThat(line.span().value()).isCloseTo(0.004, within(1e-12));
    // u(b) = u / √Σm²
    assertThat(line.span().standardUncertainty()).isCloseTo(0.02 / Math.sqrt(52_500), within(1e-9));
    assertThat(line.worst().error().value()).isCloseTo(0, within(1e-12));
    assertThatThrownBy(() -> Linearity.of(errors.subList(0, 1)))
        .isInstanceOf(IllegalArgumentException.class);
  }

  @Test
  void a_bend_is_what_the_line_leaves_and_a_sure_point_counts_more() {
    Linearity bent =
        Linearity.of(
            List.of(
                new LoadError(100, Estimate.of(0.5, 0.02, 5)),
                new LoadError(200, Estimate.of(0.0, 0.02, 5))));
    assertThat(bent.worst().loadGrams()).isEqualTo(100);
    assertThat(bent.worst().error().isReal()).isTrue();
    Linearity weighted =
        Linearity.of(
            List.of(
                new LoadError(100, Estimate.of(0.5, 1.0, 5)),
                new LoadError(200, Estimate.of(0.0, 0.001, 5))));
    assertThat(weighted.span().value()).isCloseTo(0, within(1e-5));
  }

  @Test
  void drift_is_a_slope_with_its_doubt_and_warming_up_is_a_slope_that_fades() {
    List<Plateau> steady = new ArrayList<>();
    List<Plateau> warming = new ArrayList<>();
    for (int i = 0; i < 12; i++) {
      double ripple = i % 2 == 0 ? 0.004 : -0.004;
      steady.add(plateau(i * 20, 0.1 * i * 20 / 60 + ripple));
      warming.add(plateau(i * 20, 1.5 * (1 - Math.exp(-i * 20 / 60.0)) + ripple));
    }
    Drift even = Drift.of(steady, FINE);
    assertThat(even.perMinute().covers(0.1)).isTrue();
    assertThat(even.change().covers(0.3667)).isTrue();
    assertThat(even.isWarmingUp()).isFalse();
    assertThat(Drift.of(warming, FINE).isWarmingUp()).isTrue();
    Drift brief = Drift.of(steady.subList(0, 3), FINE);
    assertThat(brief.early()).isEqualTo(brief.perMinute());
    assertThatThrownBy(() -> Drift.of(steady.subList(0, 2), FINE))
        .isInstanceOf(IllegalArgumentException.class);
  }

  private static SlowWater slow(
      Series dripping, double shownGain, double trueGain, Display display) {
    return SlowWater.of(
        plateau(0, 0.02),
        plateau(5, 240.02),
        plateau(10, 0),
        plateau(60, shownGain),
        plateau(65, shownGain - 240 - trueGain),
        dripping,
        display);
  }

  @Test
  void water_that_auto_zero_swallowed_comes_out_when_the_vessel_is_lifted() {
    double[] seconds = new double[400];
    double[] grams = new double[400];
    for (int i = 0; i < 400; i++) {
      seconds[i] = 12 + i * 0.1;
      grams[i] = Math.rint(i * 0.008 * 100) / 100;
    }
    SlowWater found = slow(Series.of(seconds, grams), 3.2, 4.8, FINE);
    assertThat(found.gained().covers(4.8)).isTrue();
    assertThat(found.swallowed().covers(1.6)).isTrue();
    assertThat(found.swallowed().isReal()).isTrue();
    assertThat(found.flow()).isCloseTo(0.12, within(0.001));
    assertThat(found.freeze()).isEmpty();
  }

  @Test
  void a_display_that_freezes_jumps_by_what_it_hid() {
    double[] seconds = new double[400];
    double[] grams = new double[400];
    double frozen = 0;
    for (int i = 0; i < 400; i++) {
      seconds[i] = 12 + i * 0.1;
      if (i * 0.012 - frozen >= 0.5) {
        frozen = Math.rint(i * 0.012 * 10) / 10;
      }
      grams[i] = frozen;
    }
    SlowWater found = slow(Series.of(seconds, grams), 4.5, 4.8, display(0.1, 0));
    assertThat(found.freeze().orElseThrow().covers(0.5)).isTrue();
    Series none = Series.of(new double[0], new double[0]);
    assertThat(slow(none, 0, 0, FINE).freeze()).isEmpty();
    assertThat(slow(none, 0, 0, FINE).flow()).isZero();
  }
}
