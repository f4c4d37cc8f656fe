package pourwright.statistic;

import java.util.Arrays;
import org.hipparchus.distribution.continuous.NormalDistribution;

/**
 * A straight trend that single bad runs do not bend.
 *
 * <p>Source: Sen 1968, JASA 63:1379 (Theil–Sen slope and its interval from Kendall's statistic).
 *
 * @param slope median of all pairwise slopes, y per x
 * @param intercept median of y less slope times median of x
 * @param slopeInterval where the slope lies; infinite with too few points to say
 */
public record Trend(double slope, double intercept, Interval slopeInterval) {

  /**
   * The trend of {@code y} over {@code x}.
   *
   * @param x positions; at least two different ones
   * @param y values, one for each
   * @throws IllegalArgumentException when the lengths differ or all {@code x} are the same
   */
  public static Trend of(double[] x, double[] y, double confidence) {
    Interval.requireConfidence(confidence);
    if (x.length != y.length) {
      throw new IllegalArgumentException(x.length + " positions for " + y.length + " values");
    }
    double[] slopes = new double[x.length * (x.length - 1) / 2];
    int count = 0;
    for (int i = 0; i < x.length; i++) {
      for (int j = i + 1; j < x.length; j++) {
        if (x[i] != x[j]) {
          slopes[count++] = (y[j] - y[i]) / (x[j] - x[i]);
        }
      }
    }
    if (count == 0) {
      throw new IllegalArgumentException("a trend needs two different positions");
    }
    slopes = Arrays.copyOf(slopes, count);
    Arrays.sort(slopes);
    double slope = Sample.medianOf(slopes);
    double intercept = Sample.medianOf(y) - slope * Sample.medianOf(x);

    double z = new NormalDistribution().inverseCumulativeProbability((1 + confidence) / 2);
    double sigma =
        Math.sqrt(
            (MannKendall.pairVariance(x.length)
                    - MannKendall.tieVariance(x)
                    - MannKendall.tieVariance(y))
                / 18.0);
    long below = Math.round((count - z * sigma) / 2) - 1;
    long above = Math.round((count + z * sigma) / 2);
    return new Trend(
        slope,
        intercept,
        new Interval(
            below < 0 ? Double.NEGATIVE_INFINITY : slopes[(int) below],
            above >= count ? Double.POSITIVE_INFINITY : slopes[(int) above],
            confidence));
  }

  /** Whether the interval leaves out "no trend". */
  public boolean isClear() {
    return !slopeInterval.contains(0);
  }
}
