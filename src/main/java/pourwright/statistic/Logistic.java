package pourwright.statistic;

import org.hipparchus.distribution.continuous.NormalDistribution;

/**
 * The chance of a yes along a line: log odds = intercept + slope · x, by penalised likelihood,
 * which stays finite and less biased where plain likelihood does not (all yes, or yes from some x
 * on).
 *
 * <p>Source: Firth 1993, Biometrika 80:27; Heinze and Schemper 2002, Statistics in Medicine 21:2409
 * (citations from memory). Intervals are Wald's on the log odds.
 *
 * @param intercept log odds where x is zero
 * @param slope log odds per x
 * @param interceptVariance of the estimate
 * @param slopeVariance of the estimate
 * @param covariance of the two estimates
 */
public record Logistic(
    double intercept,
    double slope,
    double interceptVariance,
    double slopeVariance,
    double covariance) {
  private static final int MOST_STEPS = 100;
  private static final double LARGEST_STEP = 2;
  private static final double SETTLED = 1e-11;

  /**
   * Fits yes and no to positions.
   *
   * @throws IllegalArgumentException when the lengths differ or all positions are the same
   */
  public static Logistic of(double[] x, boolean[] yes) {
    if (x.length != yes.length || x.length < 2) {
      throw new IllegalArgumentException(x.length + " positions for " + yes.length + " answers");
    }
    // centred and scaled inside, so that any unit of x converges alike
    Sample positions = Sample.of(x);
    double centre = positions.mean();
    double scale = positions.standardDeviation();
    if (scale == 0) {
      throw new IllegalArgumentException("all positions are the same");
    }
    double[] at = new double[x.length];
    for (int i = 0; i < x.length; i++) {
      at[i] = (x[i] - centre) / scale;
    }
    double a = 0;
    double b = 0;
    Information information = Information.at(at, a, b);
    for (int step = 0; step < MOST_STEPS; step++) {
      double scoreA = 0;
      double scoreB = 0;
      for (int i = 0; i < at.length; i++) {
        double chance = chance(a + b * at[i]);
        double hat = chance * (1 - chance) * information.variance(at[i]);
        double pull = (yes[i] ? 1 : 0) - chance + hat * (0.5 - chance);
        scoreA += pull;
        scoreB += pull * at[i];
      }
      double stepA = information.varianceA() * scoreA + information.covariance() * scoreB;
      double stepB = information.covariance() * scoreA + information.varianceB() * scoreB;
      double size = Math.max(Math.abs(stepA), Math.abs(stepB));
      double damping = size > LARGEST_STEP ? LARGEST_STEP / size : 1;
      a += damping * stepA;
      b += damping * stepB;
      information = Information.at(at, a, b);
      if (size < SETTLED) {
        break;
      }
    }
    double shift = centre / scale;
    return new Logistic(
        a - b * shift,
        b / scale,
        information.varianceA()
            - 2 * shift * information.covariance()
            + shift * shift * information.varianceB(),
        information.varianceB() / (scale * scale),
        (information.covariance() - shift * information.varianceB()) / scale);
  }

  /** Chance of a yes at {@code x}, 0 to 1. */
  public double chanceAt(double x) {
    return chance(intercept + slope * x);
  }

  /** Where the chance at {@code x} lies. */
  public Interval chanceInterval(double x, double confidence) {
    Interval.requireConfidence(confidence);
    double z = new NormalDistribution().inverseCumulativeProbability((1 + confidence) / 2);
    double half = z * Math.sqrt(interceptVariance + 2 * x * covariance + x * x * slopeVariance);
    double middle = intercept + slope * x;
    return new Interval(chance(middle - half), chance(middle + half), confidence);
  }

  private static double chance(double logOdds) {
    return 1 / (1 + Math.exp(-logOdds));
  }

  /** The inverse of Fisher's information. */
  private record Information(double varianceA, double varianceB, double covariance) {
    static Information at(double[] x, double a, double b) {
      double w0 = 0;
      double w1 = 0;
      double w2 = 0;
      for (double each : x) {
        double chance = chance(a + b * each);
        double weight = chance * (1 - chance);
        w0 += weight;
        w1 += weight * each;
        w2 += weight * each * each;
      }
      double determinant = w0 * w2 - w1 * w1;
      return new Information(w2 / determinant, w0 / determinant, -w1 / determinant);
    }

    double variance(double x) {
      return varianceA + 2 * x * covariance + x * x * varianceB;
    }
  }
}
