package pourwright.statistic;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.assertThatIllegalStateException;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.function.DoubleFunction;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Intervals and the tests that belong to them are two sides of one thing. */
class IntervalTest {
  private static final Sample UNEVEN = Sample.of(12.1, 13.4, 11.8, 12.9, 14.0);
  private static final double[] PLACES = {1, 2, 3, 4, 5, 6};
  private static final double[] RISING = {2.0, 2.4, 2.1, 2.9, 3.3, 2.8};

  @Test
  void a_difference_of_means_is_just_not_zero_at_the_confidence_of_its_p_value() {
    Welch welch = Welch.of(UNEVEN, Sample.of(10.2, 12.0, 11.1, 10.9));
    Interval interval = welch.interval(1 - welch.p());
    assertThat(interval.low()).isCloseTo(0, within(1e-9));
    assertThat(interval.high()).isCloseTo(2 * welch.difference(), within(1e-9));
    assertThat(interval.width()).isCloseTo(2 * welch.difference(), within(1e-9));
  }

  @Test
  void a_slope_is_just_not_zero_at_the_confidence_of_its_p_value() {
    Line line = Line.of(PLACES, RISING);
    assertThat(line.slopeP()).isBetween(0.01, 0.1);
    Interval interval = line.slopeInterval(1 - line.slopeP());
    assertThat(interval.low()).isCloseTo(0, within(1e-9));
    assertThat(interval.high()).isCloseTo(2 * line.slope(), within(1e-9));
  }

  @Test
  void limits_belong_to_an_interval() {
    Interval interval = new Interval(1, 2, 0.95);
    assertThat(interval.contains(1)).isTrue();
    assertThat(interval.contains(2)).isTrue();
    assertThat(interval.contains(0.999)).isFalse();
    assertThat(interval.contains(2.001)).isFalse();
    assertThat(interval.width()).isEqualTo(1);
  }

  @ParameterizedTest
  @ValueSource(doubles = {-0.5, 0, 1, 1.5, Double.NaN})
  void what_is_no_confidence_is_refused_by_name(double confidence) {
    List<DoubleFunction<?>> asked =
        List.of(
            UNEVEN::meanInterval,
            UNEVEN::standardDeviationInterval,
            UNEVEN::nextValueInterval,
            Line.of(PLACES, RISING)::slopeInterval,
            Welch.of(UNEVEN, Sample.of(1, 2, 4))::interval,
            level -> Trend.of(PLACES, RISING, level),
            new Proportion(3, 10)::clopperPearson,
            new Proportion(3, 10)::wilson,
            level -> SuccessRun.runsNeeded(0.9, level),
            level -> SuccessRun.runsNeeded(level, 0.9),
            level -> SuccessRun.reliabilityShown(5, level));
    for (DoubleFunction<?> each : asked) {
      assertThatIllegalArgumentException()
          .isThrownBy(() -> each.apply(confidence))
          .withMessageStartingWith("confidence must lie between 0 and 1");
    }
  }

  @Test
  void one_value_says_nothing_of_spread_or_order() {
    Sample one = Sample.of(3);
    assertThatIllegalStateException().isThrownBy(one::lagOneAutocorrelation);
    assertThatIllegalStateException().isThrownBy(() -> one.meanInterval(0.9));
    assertThatIllegalStateException().isThrownBy(() -> one.standardDeviationInterval(0.9));
    assertThatIllegalStateException().isThrownBy(() -> one.nextValueInterval(0.9));
  }

  @Test
  void spread_and_outliers_do_not_depend_on_where_the_values_lie() {
    for (double centre : new double[] {0, 100, -100}) {
      Sample sample =
          Sample.of(centre - 2, centre - 1, centre, centre + 1, centre + 2, centre - 30);
      // Deviations from the median −0.5: 1.5, 0.5, 0.5, 1.5, 2.5, 29.5; their median is 1.5.
      assertThat(sample.robustStandardDeviation()).isCloseTo(1.5 * 1.4826, within(1e-3));
      assertThat(sample.outliers()).containsExactly(5);
    }
  }
}
