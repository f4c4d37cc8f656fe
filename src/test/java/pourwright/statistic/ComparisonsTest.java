package pourwright.statistic;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ComparisonsTest {

  /** Apache Commons Statistics, TTestTest (the SciPy example from summaries). */
  @Test
  void the_published_welch_example() {
    Welch welch = Welch.ofSummaries(15, 87.5, 13, 12, 39, 11);
    assertThat(welch.t()).isCloseTo(0.9358461935556048, within(1e-14));
    assertThat(welch.freedom()).isCloseTo(20.984611233429924, within(1e-11));
    assertThat(welch.p()).isCloseTo(0.35999818693244245, within(1e-11));
    assertThat(welch.interval(1 - welch.p()).low()).isCloseTo(0, within(1e-9));
  }

  /** NIST e-Handbook 1.3.5.3 (AUTO83B): Welch t −12.94627, 136.8750 degrees. */
  @Test
  void the_handbook_car_example() {
    Welch welch =
        Welch.ofSummaries(20.14458, 6.41470 * 6.41470, 249, 30.48101, 6.10771 * 6.10771, 79);
    assertThat(welch.t()).isCloseTo(-12.94627, within(2e-5));
    assertThat(welch.freedom()).isCloseTo(136.8750, within(1e-3));
  }

  @Test
  void samples_and_their_summaries_agree() {
    Sample a = Sample.of(1, 2, 4);
    Sample b = Sample.of(2, 2, 9, 5);
    Welch welch = Welch.of(a, b);
    assertThat(welch.difference()).isCloseTo(7 / 3.0 - 4.5, within(1e-12));
    assertThat(welch.p()).isEqualTo(Welch.of(b, a).p(), within(1e-15));
  }

  /** NIST/SEMATECH e-Handbook 6.1.6 (value from memory, recomputed). */
  @Test
  void the_handbook_capability_example() {
    Capability capability = Capability.of(8, 20, 14, 16, 2);
    assertThat(capability.cp()).isCloseTo(1.0, within(1e-12));
    assertThat(capability.cpk()).isCloseTo(0.6667, within(5e-5));
    assertThat(capability.cpm()).isCloseTo(0.7071, within(5e-5));
    assertThat(Capability.of(8, 20, 14, 9, 2).cpk()).isCloseTo(1 / 6.0, within(1e-12));
  }

  /** Success-run theorem: 90 % at 95 % needs 29; 95 % at 95 % needs 59 (quality handbooks). */
  @ParameterizedTest
  @CsvSource({"0.90, 0.95, 29", "0.95, 0.95, 59", "0.90, 0.90, 22", "0.5, 0.5, 1", "0.5, 0.75, 2"})
  void clean_runs_needed_for_a_claim(double reliability, double confidence, int runs) {
    assertThat(SuccessRun.runsNeeded(reliability, confidence)).isEqualTo(runs);
    assertThat(SuccessRun.reliabilityShown(runs, confidence))
        .isGreaterThanOrEqualTo(reliability - 1e-12);
    assertThat(SuccessRun.reliabilityShown(runs - 1, confidence)).isLessThan(reliability);
  }

  /** Certified values: NIST StRD Norris. */
  @Test
  void the_certified_line() {
    Line line = Line.of(ReferenceDatasets.NORRIS_X, ReferenceDatasets.NORRIS_Y);
    assertThat(line.intercept()).isCloseTo(-0.262323073774029, within(1e-11));
    assertThat(line.interceptStandardError()).isCloseTo(0.232818234301152, within(1e-11));
    assertThat(line.slope()).isCloseTo(1.00211681802045, within(1e-13));
    assertThat(line.slopeStandardError()).isCloseTo(0.429796848199937e-03, within(1e-14));
    assertThat(line.rSquared()).isCloseTo(0.999993745883712, within(1e-14));
    assertThat(line.residualStandardDeviation()).isCloseTo(0.884796396144, within(1e-11));
    assertThat(line.freedom()).isEqualTo(34);
    assertThat(line.slopeP()).isLessThan(1e-30);
    assertThat(line.slopeInterval(0.95).contains(1.0)).isFalse();
  }

  @Test
  void a_flat_or_perfect_line_has_its_own_answer() {
    double[] x = {1, 2, 3};
    assertThat(Line.of(x, new double[] {4, 4, 4}).slopeP()).isEqualTo(1);
    assertThat(Line.of(x, new double[] {4, 4, 4}).rSquared()).isEqualTo(1);
    assertThat(Line.of(x, new double[] {2, 4, 6}).slopeP()).isEqualTo(0);
  }

  @Test
  void what_cannot_be_compared_is_refused() {
    assertThatThrownBy(() -> Welch.ofSummaries(1, 1, 1, 2, 1, 5))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> Welch.ofSummaries(1, 1, 5, 2, 1, 1))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> Welch.ofSummaries(1, 0, 3, 2, 0, 5))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> Capability.of(2, 1, 1, 1, 1))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> Capability.of(1, 2, 1, 1, 0))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> Line.of(new double[] {1, 2}, new double[] {1, 2}))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> Line.of(new double[] {1, 2, 3}, new double[] {1, 2}))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> Line.of(new double[] {1, 1, 1}, new double[] {1, 2, 3}))
        .isInstanceOf(IllegalArgumentException.class);
  }
}
