package pourwright.review;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

class SeriesTest {

  private static Series of(double... values) {
    List<Series.Point> points = new ArrayList<>();
    for (double value : values) {
      points.add(new Series.Point(100 + points.size(), value));
    }
    return new Series(points);
  }

  /**
   * t of 14 degrees of freedom at 95 % is 2.144787 (any t table); data and t of the one-sample test
   * in Apache Commons Statistics, TTestTest.java.
   */
  @Test
  void the_mean_has_the_interval_of_student() {
    Series series = of(93, 103, 95, 101, 91, 105, 96, 94, 101, 88, 98, 94, 101, 92, 95);
    double half = 2.1447866879 * series.spread().orElseThrow() / Math.sqrt(15);
    assertThat(series.meanInterval().orElseThrow().low())
        .isCloseTo(series.mean().orElseThrow() - half, within(1e-8));
    // (mean − 100) / (s / √n) as given there
    assertThat((series.mean().orElseThrow() - 100) / half * 2.1447866879)
        .isCloseTo(-2.819764453458527, within(1e-9));
  }

  /** US EPA QA/G-9S, page 109: S 22, Z 1.685, slope 1.0. */
  @Test
  void the_direction_joins_slope_and_order() {
    Series.Direction direction =
        of(10, 10, 10, 5, 10, 20, 18, 17, 15, 24, 15).direction().orElseThrow();
    assertThat(direction.order().s()).isEqualTo(22);
    assertThat(direction.order().z()).isCloseTo(1.685, within(5e-4));
    assertThat(direction.line().slope()).isEqualTo(1.0);
    assertThat(direction.isClear()).isFalse();
  }

  @Test
  void a_steady_fall_is_a_clear_direction() {
    assertThat(of(9, 8, 7.5, 7, 6, 5.5, 5, 4, 3.5, 3).direction().orElseThrow().isClear()).isTrue();
  }

  @Test
  void only_the_last_runs_are_asked_for_a_direction() {
    double[] values = new double[400];
    for (int i = 0; i < values.length; i++) {
      values[i] = i < 200 ? 1000 - i : i;
    }
    Series.Direction direction = of(values).direction().orElseThrow();
    assertThat(direction.line().slope()).isEqualTo(1.0);
    assertThat(direction.order().s()).isEqualTo(200 * 199 / 2);
  }

  @Test
  void outliers_are_named_by_their_runs() {
    assertThat(of(1, 1.1, 0.9, 1.05, 9, 1.02).outliers()).containsExactly(104L);
    assertThat(of(1, 1.1, 9).outliers()).isEmpty();
  }

  @Test
  void too_few_values_say_nothing() {
    assertThat(of().isEmpty()).isTrue();
    assertThat(of().mean()).isEmpty();
    assertThat(of(1).mean()).hasValue(1);
    assertThat(of(1).meanInterval()).isEmpty();
    assertThat(of(1).spread()).isEmpty();
    assertThat(of(1).spreadInterval()).isEmpty();
    assertThat(of(1, 2).direction()).isEmpty();
    assertThat(of(1, 1, 1).direction()).isEmpty();
    assertThat(of(1, 2).spreadInterval()).isPresent();
  }
}
