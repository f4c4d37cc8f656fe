package pourwright.statistic;

import java.util.Arrays;
import org.hipparchus.distribution.continuous.NormalDistribution;

/**
 * Does a series go up or down at all? Asks only about order, so outliers have no pull.
 *
 * <p>Source: Mann 1945, Kendall 1975; variance with ties as in US EPA QA/G-9S.
 *
 * @param s pairs that rise less pairs that fall
 * @param variance of {@code s} when there is no trend
 * @param z {@code s} in standard deviations, with continuity correction
 * @param p chance of a {@code z} this far from zero in either direction without a trend (normal
 *     approximation; rough below ten values)
 */
public record MannKendall(long s, double variance, double z, double p) {

  /**
   * Tests values in the order they came.
   *
   * @throws IllegalArgumentException with fewer than three values
   */
  public static MannKendall of(double... series) {
    if (series.length < 3) {
      throw new IllegalArgumentException("needs three values, has " + series.length);
    }
    long s = 0;
    for (int i = 0; i < series.length; i++) {
      for (int j = i + 1; j < series.length; j++) {
        s += Double.compare(series[j], series[i]);
      }
    }
    double variance = (pairVariance(series.length) - tieVariance(series)) / 18.0;
    double z = s == 0 ? 0 : (s - Long.signum(s)) / Math.sqrt(variance);
    double p = 2 * new NormalDistribution().cumulativeProbability(-Math.abs(z));
    return new MannKendall(s, variance, z, p);
  }

  static double pairVariance(int n) {
    return n * (n - 1.0) * (2.0 * n + 5);
  }

  static double tieVariance(double[] values) {
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    double sum = 0;
    for (int from = 0; from < sorted.length; ) {
      int to = from;
      while (to < sorted.length && sorted[to] == sorted[from]) {
        to++;
      }
      sum += pairVariance(to - from);
      from = to;
    }
    return sum;
  }
}
