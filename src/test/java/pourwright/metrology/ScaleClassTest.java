package pourwright.metrology;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import pourwright.units.Mass;

class ScaleClassTest {

  /** Worked from OIML R 76-1 (2006), Table 6. */
  @ParameterizedTest
  @CsvSource({
    "III, 0.1, 50, 0.05",
    "III, 0.1, 50.1, 0.1",
    "III, 0.1, 200, 0.1",
    "III, 0.1, 200.1, 0.15",
    "II, 0.01, 50, 0.005",
    "II, 0.01, 200, 0.01",
    "II, 0.01, 500, 0.015",
    "I, 0.001, 50, 0.0005",
    "IIII, 5, 250, 2.5",
    "IIII, 5, 1000.1, 7.5"
  })
  void error_steps_of_the_standard(ScaleClass of, double e, double load, double error) {
    Mass limit = of.largestError(Mass.ofGrams(load), Mass.ofGrams(e));
    assertThat(limit).isEqualTo(Mass.ofGrams(error));
    assertThat(of.largestErrorInService(Mass.ofGrams(load), Mass.ofGrams(e)))
        .isEqualTo(limit.plus(limit));
  }

  @Test
  void a_load_or_interval_that_cannot_be_is_refused() {
    Mass one = Mass.ofGrams(1);
    assertThatThrownBy(() -> ScaleClass.III.largestError(one.negated(), one))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> ScaleClass.III.largestError(one, Mass.ZERO))
        .isInstanceOf(IllegalArgumentException.class);
  }
}
