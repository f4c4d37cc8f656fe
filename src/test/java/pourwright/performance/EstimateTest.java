package pourwright.performance;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import pourwright.metrology.UncertaintyBudget;
import pourwright.metrology.UncertaintyBudget.Contribution;

class EstimateTest {

  /** Student's t for 95 % at 5 degrees of freedom: 2.571 (NIST/SEMATECH e-Handbook 1.3.6.7.2). */
  @Test
  void a_value_from_six_repeats_gets_the_interval_of_student() {
    Estimate mean = Estimate.of(10, 0.1, 5);
    assertThat(mean.halfWidth()).isCloseTo(0.2571, within(1e-4));
    assertThat(mean.covers(10.25)).isTrue();
    assertThat(mean.covers(10.26)).isFalse();
    assertThat(mean.isReal()).isTrue();
    assertThat(mean.worst()).isCloseTo(10.2571, within(1e-4));
  }

  /** University of Tartu, GUM example "weighing": u 0.000207525 g at 33 degrees of freedom. */
  @Test
  void a_budget_becomes_an_interval_with_its_own_degrees_of_freedom() {
    Estimate weighed =
        Estimate.of(
            0.3240,
            UncertaintyBudget.of(
                new Contribution("repeatability", 0.00017, 15),
                Contribution.rectangular("drift", 0.0002),
                Contribution.rectangular("readability", 0.00005)));
    assertThat(weighed.standardUncertainty()).isCloseTo(0.000207525, within(1e-9));
    // t at 33 degrees of freedom is 2.0345
    assertThat(weighed.halfWidth()).isCloseTo(2.0345 * 0.000207525, within(1e-8));
  }

  /** Chi-squared limits for 9 degrees of freedom: 2.700 and 19.023 (e-Handbook 1.3.6.7.4). */
  @Test
  void a_standard_deviation_gets_the_limits_of_chi_squared() {
    Estimate deviation = Estimate.ofDeviation(1, 9);
    assertThat(deviation.low()).isCloseTo(Math.sqrt(9 / 19.023), within(1e-4));
    assertThat(deviation.high()).isCloseTo(Math.sqrt(9 / 2.700), within(2e-4));
  }

  @Test
  void what_cannot_be_negative_is_cut_at_zero() {
    Estimate cut = Estimate.of(0.1, 1, Double.POSITIVE_INFINITY).atLeastZero();
    assertThat(cut.low()).isZero();
    assertThat(cut.isReal()).isFalse();
    assertThat(Estimate.of(-3, 1, 1e9).isReal()).isTrue();
    assertThat(Estimate.of(-3, 1, 1e9).atLeastZero().value()).isZero();
  }

  @Test
  void an_interval_upside_down_is_refused() {
    assertThatThrownBy(() -> new Estimate(1, 1, 2, 1)).isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Estimate(1, -1, 0, 1))
        .isInstanceOf(IllegalArgumentException.class);
  }
}
