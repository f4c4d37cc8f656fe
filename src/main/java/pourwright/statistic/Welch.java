package pourwright.statistic;

import org.hipparchus.distribution.continuous.TDistribution;

/**
 * Do two groups differ in their mean, without believing that they spread alike?
 *
 * <p>Source: Welch 1947, Biometrika 34:28.
 *
 * @param difference mean of the first less mean of the second
 * @param t difference in standard errors
 * @param freedom degrees of freedom by Welch and Satterthwaite
 * @param p chance of a difference this large either way when there is none
 * @param standardError of the difference
 */
public record Welch(double difference, double t, double freedom, double p, double standardError) {

  public static Welch of(Sample first, Sample second) {
    return ofSummaries(
        first.mean(),
        square(first.standardDeviation()),
        first.size(),
        second.mean(),
        square(second.standardDeviation()),
        second.size());
  }

  /**
   * From means, variances and sizes.
   *
   * @throws IllegalArgumentException when a group has fewer than two values or neither spreads
   */
  public static Welch ofSummaries(
      double firstMean,
      double firstVariance,
      int firstSize,
      double secondMean,
      double secondVariance,
      int secondSize) {
    if (firstSize < 2 || secondSize < 2) {
      throw new IllegalArgumentException("each group needs two values");
    }
    double a = firstVariance / firstSize;
    double b = secondVariance / secondSize;
    if (!(a + b > 0)) {
      throw new IllegalArgumentException("neither group spreads");
    }
    double difference = firstMean - secondMean;
    double standardError = Math.sqrt(a + b);
    double t = difference / standardError;
    double freedom = square(a + b) / (a * a / (firstSize - 1) + b * b / (secondSize - 1));
    double p = 2 * new TDistribution(freedom).cumulativeProbability(-Math.abs(t));
    return new Welch(difference, t, freedom, p, standardError);
  }

  /** Where the true difference lies. */
  public Interval interval(double confidence) {
    Interval.requireConfidence(confidence);
    double half = Sample.tQuantile((1 + confidence) / 2, freedom) * standardError;
    return new Interval(difference - half, difference + half, confidence);
  }

  private static double square(double value) {
    return value * value;
  }
}
