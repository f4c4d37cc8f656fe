package pourwright.statistic;

import org.hipparchus.distribution.continuous.TDistribution;

/**
 * A least-squares straight line with what is needed to be honest about it.
 *
 * @param slope y per x
 * @param intercept y where x is zero
 * @param slopeStandardError in the unit of the slope
 * @param interceptStandardError in the unit of y
 * @param residualStandardDeviation with n − 2
 * @param rSquared share of the variation explained, 0 to 1
 * @param freedom n − 2
 */
public record Line(
    double slope,
    double intercept,
    double slopeStandardError,
    double interceptStandardError,
    double residualStandardDeviation,
    double rSquared,
    int freedom) {

  /**
   * The line of {@code y} on {@code x}.
   *
   * @throws IllegalArgumentException with fewer than three points or one position only
   */
  public static Line of(double[] x, double[] y) {
    if (x.length != y.length || x.length < 3) {
      throw new IllegalArgumentException("needs three points, has " + x.length);
    }
    int n = x.length;
    double meanX = Sample.of(x).mean();
    double meanY = Sample.of(y).mean();
    double sxx = 0;
    double sxy = 0;
    double syy = 0;
    for (int i = 0; i < n; i++) {
      double dx = x[i] - meanX;
      double dy = y[i] - meanY;
      sxx += dx * dx;
      sxy += dx * dy;
      syy += dy * dy;
    }
    if (sxx == 0) {
      throw new IllegalArgumentException("all positions are the same");
    }
    double slope = sxy / sxx;
    double intercept = meanY - slope * meanX;
    double residual = 0;
    for (int i = 0; i < n; i++) {
      double off = y[i] - meanY - slope * (x[i] - meanX);
      residual += off * off;
    }
    double s = Math.sqrt(residual / (n - 2));
    return new Line(
        slope,
        intercept,
        s / Math.sqrt(sxx),
        s * Math.sqrt(1.0 / n + meanX * meanX / sxx),
        s,
        syy == 0 ? 1 : 1 - residual / syy,
        n - 2);
  }

  /** Chance of a slope this far from zero either way when there is none. */
  public double slopeP() {
    if (slopeStandardError == 0) {
      return slope == 0 ? 1 : 0;
    }
    double t = Math.abs(slope) / slopeStandardError;
    return 2 * new TDistribution(freedom).cumulativeProbability(-t);
  }

  /** Where the true slope lies. */
  public Interval slopeInterval(double confidence) {
    Interval.requireConfidence(confidence);
    double half = Sample.tQuantile((1 + confidence) / 2, freedom) * slopeStandardError;
    return new Interval(slope - half, slope + half, confidence);
  }
}
