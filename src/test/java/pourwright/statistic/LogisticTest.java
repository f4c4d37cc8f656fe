package pourwright.statistic;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class LogisticTest {

  /** Two groups, at {@code low} and {@code high}, with so many yes of so many. */
  private static Logistic groups(
      double low, int yesLow, int ofLow, double high, int yesHigh, int ofHigh) {
    double[] x = new double[ofLow + ofHigh];
    boolean[] yes = new boolean[x.length];
    for (int i = 0; i < x.length; i++) {
      boolean isLow = i < ofLow;
      x[i] = isLow ? low : high;
      yes[i] = isLow ? i < yesLow : i - ofLow < yesHigh;
    }
    return Logistic.of(x, yes);
  }

  /**
   * With two groups the penalty adds half a yes and half a no to each (Firth 1993, section 3.1; the
   * estimate of Haldane 1955 and Anscombe 1956), so the fit is known in closed form.
   */
  @ParameterizedTest
  @CsvSource({"3, 10, 8, 12", "0, 10, 10, 10", "0, 5, 0, 7", "6, 6, 6, 6", "1, 2, 19, 20"})
  void two_groups_are_fitted_as_with_half_a_yes_and_half_a_no_more(
      int yesLow, int ofLow, int yesHigh, int ofHigh) {
    Logistic fit = groups(0, yesLow, ofLow, 1, yesHigh, ofHigh);
    double low = Math.log((yesLow + 0.5) / (ofLow - yesLow + 0.5));
    double high = Math.log((yesHigh + 0.5) / (ofHigh - yesHigh + 0.5));
    assertThat(fit.intercept()).isCloseTo(low, within(1e-8));
    assertThat(fit.slope()).isCloseTo(high - low, within(1e-8));
    double weightLow = ofLow * fit.chanceAt(0) * (1 - fit.chanceAt(0));
    double weightHigh = ofHigh * fit.chanceAt(1) * (1 - fit.chanceAt(1));
    assertThat(fit.interceptVariance()).isCloseTo(1 / weightLow, within(1e-7));
    assertThat(fit.slopeVariance()).isCloseTo(1 / weightLow + 1 / weightHigh, within(1e-7));
    assertThat(fit.covariance()).isCloseTo(-1 / weightLow, within(1e-7));
  }

  @Test
  void the_unit_and_zero_of_the_position_change_no_chance() {
    Logistic plain = groups(0, 3, 10, 1, 8, 12);
    Logistic moved = groups(1000, 3, 10, 1250, 8, 12);
    assertThat(moved.chanceAt(1000)).isCloseTo(plain.chanceAt(0), within(1e-8));
    assertThat(moved.chanceAt(1250)).isCloseTo(plain.chanceAt(1), within(1e-8));
    Interval here = plain.chanceInterval(1, 0.95);
    Interval there = moved.chanceInterval(1250, 0.95);
    assertThat(there.low()).isCloseTo(here.low(), within(1e-7));
    assertThat(there.high()).isCloseTo(here.high(), within(1e-7));
  }

  @Test
  void the_interval_is_that_of_the_log_odds() {
    Logistic fit = groups(0, 3, 10, 1, 8, 12);
    double half = 1.959963984540054 * Math.sqrt(fit.interceptVariance());
    Interval interval = fit.chanceInterval(0, 0.95);
    assertThat(interval.low())
        .isCloseTo(1 / (1 + Math.exp(-(fit.intercept() - half))), within(1e-9));
    assertThat(interval.high())
        .isCloseTo(1 / (1 + Math.exp(-(fit.intercept() + half))), within(1e-9));
  }

  @Test
  void all_yes_from_some_position_on_stays_finite() {
    boolean[] yes = {false, false, false, true, true, true, true};
    Logistic fit = Logistic.of(new double[] {0, 1, 2, 3, 4, 5, 6}, yes);
    assertThat(fit.slope()).isPositive().isFinite();
    assertThat(fit.chanceAt(6)).isBetween(0.8, 0.999);
  }

  @Test
  void what_cannot_be_fitted_is_refused() {
    assertThatThrownBy(() -> Logistic.of(new double[] {1, 1}, new boolean[] {true, false}))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> Logistic.of(new double[] {1}, new boolean[] {true}))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> Logistic.of(new double[] {1, 2}, new boolean[] {true}))
        .isInstanceOf(IllegalArgumentException.class);
  }
}
