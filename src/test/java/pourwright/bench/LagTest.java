package pourwright.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

class LagTest {
  @ParameterizedTest
  @EnumSource(Lag.Kind.class)
  void a_steady_ramp_is_shown_late_by_the_lag(Lag.Kind kind) {
    Lag lag = Lag.of(kind, 0.4, Scene.STEP_SECONDS);
    double shown = 0;
    double grams = 0;
    for (int i = 0; i < 4000; i++) {
      grams = 5.0 * i * Scene.STEP_SECONDS;
      shown = lag.next(grams);
    }
    assertThat((grams - shown) / 5.0).isCloseTo(0.4, within(0.005));
  }

  @ParameterizedTest
  @EnumSource(Lag.Kind.class)
  void a_held_weight_is_shown_as_it_is(Lag.Kind kind) {
    Lag lag = Lag.of(kind, 0.4, Scene.STEP_SECONDS);
    lag.next(0);
    double shown = 0;
    for (int i = 0; i < 4000; i++) {
      shown = lag.next(250);
    }
    assertThat(shown).isCloseTo(250, within(1e-3));
  }
}
