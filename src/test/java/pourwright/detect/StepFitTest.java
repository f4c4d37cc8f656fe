package pourwright.detect;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Vessels put down and lifted, as scales of known smoothing show them. */
class StepFitTest {

  /** A load that grows evenly around {@code at}, seen through a kernel. */
  private static Track step(Kernel kernel, double at, double ramp, double grams) {
    return Readings.of(
        10,
        t -> 30 + grams * (kernel.ramp(t - at + ramp / 2) - kernel.ramp(t - at - ramp / 2)) / ramp);
  }

  private static StepFit near(Track track, double near) {
    return new StepFit(track, near, Double.NEGATIVE_INFINITY, Double.POSITIVE_INFINITY);
  }

  @ParameterizedTest
  @CsvSource({"0.1, 0.1, 300", "0.3, 0.2, -180", "0.5, 0.06, 250", "0.2, 0.4, 90"})
  void step_through_the_right_smoothing_is_found_where_it_was(
      double lag, double ramp, double grams) {
    Kernel kernel = Kernel.Kind.ONE_STAGE.of(lag);
    StepFit step = near(step(kernel, 5.1, ramp, grams), 5);
    assertThat(step.isUsable()).isTrue();
    StepFit.Fit fit = step.fit(kernel);
    assertThat(fit.at()).isCloseTo(0.1, within(0.02));
    assertThat(fit.height()).isCloseTo(grams, within(0.01 * Math.abs(grams)));
    assertThat(fit.ramp()).isCloseTo(ramp, within(0.5 * ramp));
    assertThat(fit.misfit()).isLessThan(2.5);
    assertThat(step.change()).isCloseTo(grams, within(0.02 * Math.abs(grams)));
  }

  @Test
  void wrong_smoothing_fits_worse() {
    StepFit step = near(step(Kernel.Kind.ONE_STAGE.of(0.4), 5, 0.1, 300), 5);
    double right = step.fit(Kernel.Kind.ONE_STAGE.of(0.4)).misfit();
    assertThat(step.fit(Kernel.Kind.ONE_STAGE.of(0.05)).misfit()).isGreaterThan(10 * right);
    assertThat(step.fit(Kernel.Kind.ONE_STAGE.of(0.9)).misfit()).isGreaterThan(10 * right);
  }

  @Test
  void only_what_lies_between_its_limits_is_looked_at() {
    Track track = Readings.of(10, t -> t < 3.9 ? 900 : t < 5 ? 30 : t < 6.1 ? 130 : 700);
    assertThat(new StepFit(track, 5, 4, 6).change()).isCloseTo(100, within(0.05));
    assertThat(new StepFit(track, 5, 4.9, 5.2).isUsable()).isFalse();
    assertThat(near(track, 5).change()).isCloseTo(700 - 900, within(0.05));
  }

  @Test
  void no_step_fits_no_step() {
    Track track = Readings.of(10, t -> 30);
    assertThat(near(track, 5).fit(Kernel.Kind.ONE_STAGE.of(0.1)).height())
        .isCloseTo(0, within(0.05));
  }

  /** Of two steps the lag of the scale is read; what is small or cut by a tare is left out. */
  @Test
  void clean_steps_tell_the_smoothing_of_the_scale() {
    Kernel kernel = Kernel.Kind.TWO_STAGES.of(0.37);
    Track track =
        Readings.of(
            30,
            t -> {
              double first = (kernel.ramp(t - 5) - kernel.ramp(t - 5.1)) / 0.1;
              double second = (kernel.ramp(t - 15) - kernel.ramp(t - 15.1)) / 0.1;
              return 250 * first - 200 * second + (t > 25 ? 8 : 0);
            });
    Kernel found = LagFinder.find(track, List.of(5.0, 15.0, 25.0), List.of()).orElseThrow();
    assertThat(found).isInstanceOf(Kernel.TwoStages.class);
    assertThat(found.lag()).isCloseTo(0.37, within(0.005));
    assertThat(LagFinder.find(track, List.of(25.0), List.of())).isEqualTo(Optional.empty());
    assertThat(LagFinder.find(track, List.of(), List.of())).isEmpty();
    // a tare right after the first leaves no readings of it
    assertThat(LagFinder.find(track, List.of(5.0), List.of(5.2))).isNotEqualTo(Optional.of(found));
  }
}
