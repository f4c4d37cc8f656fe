package pourwright.statistic;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.hipparchus.distribution.discrete.BinomialDistribution;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ProportionTest {

  /** Apache Commons Statistics, BinomialConfidenceIntervalTest. */
  @ParameterizedTest
  @CsvSource({
    "0, 10, 0.95, 0, 0.27753279986288926, 0, 0.3084971078187608",
    "3, 10, 0.95, 0.10779126740630104, 0.6032218525388546, 0.06673951117773447, 0.6524528500599972",
    "10, 10, 0.95, 0.7224672001371106, 1, 0.6915028921812392, 1",
    "20, 400, 0.95, 0.03259742983714725, 0.07596363506371961, 0.030805241143265938,"
        + " 0.07616697275514255",
    "50, 500, 0.90, 0.0800391858824593, 0.12426638582141426, 0.07873857004520295,"
        + " 0.1248658074138089"
  })
  void published_wilson_and_clopper_pearson_limits(
      int hits, int of, double confidence, double wLow, double wHigh, double cLow, double cHigh) {
    Proportion proportion = new Proportion(hits, of);
    Interval wilson = proportion.wilson(confidence);
    Interval exact = proportion.clopperPearson(confidence);
    assertThat(wilson.low()).isCloseTo(wLow, within(1e-12));
    assertThat(wilson.high()).isCloseTo(wHigh, within(1e-12));
    assertThat(exact.low()).isCloseTo(cLow, within(1e-9));
    assertThat(exact.high()).isCloseTo(cHigh, within(1e-9));
  }

  /** The promise itself: summed over all outcomes, the exact interval covers at least as said. */
  @ParameterizedTest
  @CsvSource({"0.1", "0.5", "0.77", "0.93"})
  void the_exact_interval_covers_at_least_as_often_as_it_says(double truth) {
    int trials = 12;
    BinomialDistribution outcomes = new BinomialDistribution(trials, truth);
    double covered = 0;
    for (int hits = 0; hits <= trials; hits++) {
      if (new Proportion(hits, trials).clopperPearson(0.9).contains(truth)) {
        covered += outcomes.probability(hits);
      }
    }
    assertThat(covered).isGreaterThanOrEqualTo(0.9);
  }

  @Test
  void what_is_no_proportion_is_refused() {
    assertThatThrownBy(() -> new Proportion(0, 0)).isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Proportion(-1, 2)).isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Proportion(3, 2)).isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Proportion(1, 2).wilson(0))
        .isInstanceOf(IllegalArgumentException.class);
    assertThat(new Proportion(1, 4).share()).isEqualTo(0.25);
  }
}
