package pourwright.statistic;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

class TrendTest {

  /** Sen 1968's own example, as in SciPy's tests: slope 4, 93 % interval 26/7 to 35/8. */
  @Test
  void the_published_example() {
    Trend trend =
        Trend.of(
            new double[] {1, 2, 3, 4, 10, 12, 18}, new double[] {9, 15, 19, 20, 45, 55, 78}, 0.93);
    assertThat(trend.slope()).isEqualTo(4);
    assertThat(trend.intercept()).isEqualTo(4);
    assertThat(trend.slopeInterval().low()).isCloseTo(26 / 7.0, within(1e-12));
    assertThat(trend.slopeInterval().high()).isCloseTo(35 / 8.0, within(1e-12));
    assertThat(trend.isClear()).isTrue();
  }

  /** US EPA QA/G-9S, p. 109: S 22, variance 155.33 with ties, Z 1.685, Sen slope 1.0. */
  @Test
  void the_published_mann_kendall_example_with_ties() {
    double[] series = {10, 10, 10, 5, 10, 20, 18, 17, 15, 24, 15};
    MannKendall test = MannKendall.of(series);
    assertThat(test.s()).isEqualTo(22);
    assertThat(test.variance()).isCloseTo(155.3333, within(1e-4));
    assertThat(test.z()).isCloseTo(1.68495, within(1e-5));
    // Φ(−1.685) = 0.0460 (printed normal table), both sides
    assertThat(test.p()).isCloseTo(0.0920, within(1e-3));
    double[] x = new double[series.length];
    for (int i = 0; i < x.length; i++) {
      x[i] = i;
    }
    assertThat(Trend.of(x, series, 0.9).slope()).isEqualTo(1.0);
  }

  @Test
  void two_points_have_a_slope_but_no_certainty() {
    Trend trend = Trend.of(new double[] {0, 1}, new double[] {5, 7}, 0.95);
    assertThat(trend.slope()).isEqualTo(2);
    assertThat(trend.slopeInterval().low()).isNegative().isInfinite();
    assertThat(trend.slopeInterval().high()).isPositive().isInfinite();
    assertThat(trend.isClear()).isFalse();
  }

  @Test
  void a_mirrored_series_mirrors_the_answer() {
    double[] up = {1, 3, 2, 5, 4, 6};
    double[] down = {-1, -3, -2, -5, -4, -6};
    assertThat(MannKendall.of(down).z()).isEqualTo(-MannKendall.of(up).z());
    assertThat(MannKendall.of(1, 2, 1).z()).isZero();
    assertThat(MannKendall.of(1, 2, 1).p()).isCloseTo(1, within(1e-12));
  }

  @Test
  void what_has_no_trend_to_find_is_refused() {
    assertThatThrownBy(() -> Trend.of(new double[] {1, 1}, new double[] {1, 2}, 0.9))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("two different positions");
    assertThatThrownBy(() -> Trend.of(new double[] {1}, new double[] {1, 2}, 0.9))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> MannKendall.of(1, 2)).isInstanceOf(IllegalArgumentException.class);
  }
}
