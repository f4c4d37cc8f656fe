package pourwright.statistic;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

class SampleTest {

  /** Certified values: NIST StRD univariate sets. Last column: digits that must agree. */
  static Stream<Arguments> certified() {
    return Stream.of(
        Arguments.of("NumAcc1", new double[] {10000001, 10000003, 10000002}, 10000002, 1, -0.5, 14),
        Arguments.of("NumAcc2", ReferenceDatasets.alternating(1.2, 1.1, 1.3), 1.2, 0.1, -0.999, 13),
        Arguments.of(
            "NumAcc3",
            ReferenceDatasets.alternating(1000000.2, 1000000.1, 1000000.3),
            1000000.2,
            0.1,
            -0.999,
            9),
        Arguments.of(
            "NumAcc4",
            ReferenceDatasets.alternating(10000000.2, 10000000.1, 10000000.3),
            10000000.2,
            0.1,
            -0.999,
            8),
        Arguments.of(
            "Michelso",
            ReferenceDatasets.MICHELSO,
            299.852400000000,
            0.0790105478190518,
            0.535199668621283,
            12),
        Arguments.of(
            "Mavro",
            ReferenceDatasets.MAVRO,
            2.00185600000000,
            0.000429123454003053,
            0.937989183438248,
            12));
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("certified")
  void certified_mean_deviation_and_autocorrelation(
      String name, double[] values, double mean, double deviation, double lagOne, int digits) {
    Sample sample = Sample.of(values);
    double relative = Math.pow(10, -digits);
    assertThat(sample.mean()).isCloseTo(mean, within(mean * 1e-14));
    assertThat(sample.standardDeviation()).isCloseTo(deviation, within(deviation * relative));
    assertThat(sample.lagOneAutocorrelation())
        .isCloseTo(lagOne, within(Math.abs(lagOne) * relative));
  }

  /** One-sample t of Apache Commons Statistics (R 3.4.0): t = −2.8198 against 100, n = 15. */
  @Test
  void mean_interval_agrees_with_a_published_one_sample_t() {
    Sample sample = Sample.of(93, 103, 95, 101, 91, 105, 96, 94, 101, 88, 98, 94, 101, 92, 95);
    assertThat((sample.mean() - 100) / sample.standardError())
        .isCloseTo(-2.819764453458527, within(1e-13));
    // two-sided p = 0.013639…: 100 lies exactly on the limit of the interval of 1 − p
    assertThat(sample.meanInterval(1 - 0.013639058587288887).high()).isCloseTo(100, within(1e-9));
  }

  /** Chi-squared 0.025 and 0.975 quantiles at 9 degrees: 2.70039, 19.0228 (printed tables). */
  @Test
  void deviation_interval_agrees_with_tables() {
    Sample sample = Sample.of(1, 2, 3, 4, 5, 6, 7, 8, 9, 10);
    double variance = 55.0 / 6;
    Interval interval = sample.standardDeviationInterval(0.95);
    assertThat(interval.low()).isCloseTo(Math.sqrt(9 * variance / 19.0228), within(1e-4));
    assertThat(interval.high()).isCloseTo(Math.sqrt(9 * variance / 2.70039), within(1e-4));
  }

  @Test
  void the_next_value_is_less_certain_than_the_mean() {
    Sample sample = Sample.of(1, 2, 4);
    assertThat(sample.nextValueInterval(0.9).width())
        .isCloseTo(2 * sample.meanInterval(0.9).width(), within(1e-12));
  }

  @Test
  void one_wild_value_is_named_and_hides_nothing() {
    assertThat(Sample.of(0.1, -0.2, 0.3, 0.0, -0.1, 6.0, 0.2).outliers()).containsExactly(5);
    assertThat(Sample.of(0.1, -0.2, 0.3, 0.0, -0.1, 0.2).outliers()).isEmpty();
    assertThat(Sample.of(1, 1, 1, 1, 9).outliers()).isEmpty();
  }

  @Test
  void medians() {
    assertThat(Sample.of(3, 1, 2).median()).isEqualTo(2);
    assertThat(Sample.of(4, 1, 2, 3).median()).isEqualTo(2.5);
    // normal quartiles lie 0.6745 σ from the middle: deviations 0, 1, 1 give 1.4826
    assertThat(Sample.of(-1, 0, 1).robustStandardDeviation()).isCloseTo(1.4826, within(1e-4));
  }

  @Test
  void what_cannot_be_known_is_refused() {
    assertThatThrownBy(() -> Sample.of()).isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> Sample.of(1, Double.NaN)).isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> Sample.of(1).standardDeviation())
        .isInstanceOf(IllegalStateException.class)
        .hasMessageContaining("needs 2 values, has 1");
    assertThatThrownBy(() -> Sample.of(1, 2).meanInterval(1))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Interval(2, 1, 0.9)).isInstanceOf(IllegalArgumentException.class);
    assertThat(Sample.of(7).mean()).isEqualTo(7);
    assertThat(Sample.of(7, 8).toArray()).containsExactly(7, 8);
  }
}
