package pourwright.statistic;

import java.util.Arrays;
import java.util.stream.IntStream;
import org.hipparchus.distribution.continuous.ChiSquaredDistribution;
import org.hipparchus.distribution.continuous.TDistribution;
import org.hipparchus.stat.StatUtils;

/** Repeated values of one thing, in the order they came. */
public final class Sample {

  /** Scales a median absolute deviation to the standard deviation of normal values: 1 / Φ⁻¹(¾). */
  private static final double MAD_TO_SIGMA = 1.482602218505602;

  private final double[] values;

  private Sample(double[] values) {
    this.values = values;
  }

  /**
   * A sample of these values.
   *
   * @throws IllegalArgumentException when there are none, or one is not finite
   */
  public static Sample of(double... values) {
    if (values.length == 0) {
      throw new IllegalArgumentException("a sample needs at least one value");
    }
    for (double value : values) {
      if (!Double.isFinite(value)) {
        throw new IllegalArgumentException("not a finite value: " + value);
      }
    }
    return new Sample(values.clone());
  }

  public int size() {
    return values.length;
  }

  public double[] toArray() {
    return values.clone();
  }

  public double mean() {
    return StatUtils.mean(values);
  }

  /**
   * Standard deviation with n − 1.
   *
   * @throws IllegalStateException with fewer than two values
   */
  public double standardDeviation() {
    requireSize(2);
    return Math.sqrt(StatUtils.variance(values));
  }

  /** Standard error of the mean; needs two values. */
  public double standardError() {
    return standardDeviation() / Math.sqrt(values.length);
  }

  /** Lag-1 autocorrelation as NIST StRD defines it; needs two values that differ. */
  public double lagOneAutocorrelation() {
    requireSize(2);
    double mean = mean();
    double squares = Arrays.stream(values).map(value -> (value - mean) * (value - mean)).sum();
    double products =
        IntStream.range(1, values.length)
            .mapToDouble(i -> (values[i - 1] - mean) * (values[i] - mean))
            .sum();
    return products / squares;
  }

  public double median() {
    return medianOf(values);
  }

  /** Median absolute deviation, scaled to estimate the standard deviation of normal values. */
  public double robustStandardDeviation() {
    double centre = median();
    return MAD_TO_SIGMA * medianOf(Arrays.stream(values).map(v -> Math.abs(v - centre)).toArray());
  }

  /** Where the mean lies, by Student's t; needs two values. */
  public Interval meanInterval(double confidence) {
    Interval.requireConfidence(confidence);
    requireSize(2);
    double half = tQuantile((1 + confidence) / 2, values.length - 1) * standardError();
    return new Interval(mean() - half, mean() + half, confidence);
  }

  /** Where the standard deviation of normal values lies, by chi-squared; needs two values. */
  public Interval standardDeviationInterval(double confidence) {
    Interval.requireConfidence(confidence);
    requireSize(2);
    int freedom = values.length - 1;
    ChiSquaredDistribution chi = new ChiSquaredDistribution(freedom);
    double scale = standardDeviation() * Math.sqrt(freedom);
    return new Interval(
        scale / Math.sqrt(chi.inverseCumulativeProbability((1 + confidence) / 2)),
        scale / Math.sqrt(chi.inverseCumulativeProbability((1 - confidence) / 2)),
        confidence);
  }

  /** Where the next single value of the same normal source will lie; needs two values. */
  public Interval nextValueInterval(double confidence) {
    Interval.requireConfidence(confidence);
    requireSize(2);
    double half =
        tQuantile((1 + confidence) / 2, values.length - 1)
            * standardDeviation()
            * Math.sqrt(1 + 1.0 / values.length);
    return new Interval(mean() - half, mean() + half, confidence);
  }

  /**
   * Positions (from 0) of values that do not belong to the rest: modified z-score above 3.5.
   *
   * <p>Source: Iglewicz and Hoaglin 1993, as recommended in the NIST/SEMATECH e-Handbook 1.3.5.17
   * (limit from memory). Where more than half of the values are equal, none is called an outlier.
   */
  public int[] outliers() {
    double spread = robustStandardDeviation();
    if (spread == 0) {
      return new int[0];
    }
    double centre = median();
    // 0.6745 · |x − median| / MAD > 3.5, written with the scaled deviation
    return IntStream.range(0, values.length)
        .filter(i -> Math.abs(values[i] - centre) > 3.5 * spread)
        .toArray();
  }

  private void requireSize(int atLeast) {
    if (values.length < atLeast) {
      throw new IllegalStateException("needs " + atLeast + " values, has " + values.length);
    }
  }

  static double tQuantile(double probability, double freedom) {
    return new TDistribution(freedom).inverseCumulativeProbability(probability);
  }

  static double medianOf(double[] unsorted) {
    return StatUtils.percentile(unsorted, 50);
  }
}
