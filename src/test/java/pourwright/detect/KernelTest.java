package pourwright.detect;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** The closed forms are held to numerical integration of each other and to their limits. */
class KernelTest {
  private static final double LAG = 0.4;

  @ParameterizedTest
  @EnumSource(Kernel.Kind.class)
  void ramp_is_the_integral_of_the_step_and_bend_of_the_ramp(Kernel.Kind kind) {
    Kernel kernel = kind.of(LAG);
    double step = 1e-4;
    double ramp = 0;
    double bend = 0;
    for (int i = 0; i < 20_000; i++) {
      double x = i * step;
      ramp += kernel.step(x + step / 2) * step;
      bend += kernel.ramp(x + step / 2) * step;
    }
    assertThat(kernel.ramp(2)).isCloseTo(ramp, within(1e-4));
    assertThat(kernel.bend(2)).isCloseTo(bend, within(1e-4));
  }

  @ParameterizedTest
  @EnumSource(Kernel.Kind.class)
  void a_ramp_is_followed_by_the_lag_in_the_end(Kernel.Kind kind) {
    Kernel kernel = kind.of(LAG);
    assertThat(kernel.step(30)).isCloseTo(1, within(1e-9));
    assertThat(kernel.ramp(30)).isCloseTo(30 - LAG, within(1e-9));
    assertThat(kernel.bend(30)).isCloseTo(450 - LAG * 30 + kernel.halfSquare(), within(1e-6));
  }

  @ParameterizedTest
  @EnumSource(Kernel.Kind.class)
  void nothing_shows_before_it_happens(Kernel.Kind kind) {
    Kernel kernel = kind.of(LAG);
    assertThat(kernel.step(-0.1)).isZero();
    assertThat(kernel.ramp(-0.1)).isZero();
    assertThat(kernel.bend(-0.1)).isZero();
  }
}
