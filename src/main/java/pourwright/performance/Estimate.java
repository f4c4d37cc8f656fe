package pourwright.performance;

import org.hipparchus.distribution.continuous.ChiSquaredDistribution;
import org.hipparchus.distribution.continuous.TDistribution;
import pourwright.metrology.UncertaintyBudget;

/**
 * A figure with what is known of it; all four are in one unit, which the owner names.
 *
 * @param value best estimate
 * @param standardUncertainty not negative
 * @param low lower end of the interval in which the true value lies with {@link #CONFIDENCE}
 * @param high upper end
 */
public record Estimate(double value, double standardUncertainty, double low, double high) {
  /** Of every interval here. */
  public static final double CONFIDENCE = 0.95;

  public Estimate {
    if (!(standardUncertainty >= 0) || !(low <= high)) {
      throw new IllegalArgumentException(
          value + " with " + standardUncertainty + " from " + low + " to " + high);
    }
  }

  /** From a budget of causes, by Student's t at its effective degrees of freedom. */
  public static Estimate of(double value, UncertaintyBudget budget) {
    double half = budget.expanded(CONFIDENCE);
    return new Estimate(value, budget.combined(), value - half, value + half);
  }

  /**
   * From a standard uncertainty known by {@code freedom} degrees of freedom.
   *
   * @param freedom at least 1, may be infinite
   */
  public static Estimate of(double value, double standardUncertainty, double freedom) {
    double half = quantile(freedom) * standardUncertainty;
    return new Estimate(value, standardUncertainty, value - half, value + half);
  }

  /**
   * A standard deviation found from normal values.
   *
   * @param freedom of the estimate, at least 1
   */
  public static Estimate ofDeviation(double deviation, double freedom) {
    ChiSquaredDistribution chi = new ChiSquaredDistribution(freedom);
    double root = deviation * Math.sqrt(freedom);
    return new Estimate(
        deviation,
        deviation / Math.sqrt(2 * freedom),
        root / Math.sqrt(chi.inverseCumulativeProbability((1 + CONFIDENCE) / 2)),
        root / Math.sqrt(chi.inverseCumulativeProbability((1 - CONFIDENCE) / 2)));
  }

  /** The same interval, but no part of it below zero: for what cannot be negative. */
  public Estimate atLeastZero() {
    return new Estimate(
        Math.max(0, value), standardUncertainty, Math.max(0, low), Math.max(0, high));
  }

  public boolean covers(double truth) {
    return truth >= low && truth <= high;
  }

  /** Whether the interval leaves zero out, so that there is an effect at all. */
  public boolean isReal() {
    return low > 0 || high < 0;
  }

  /** How far from zero the true value may lie. */
  public double worst() {
    return Math.max(Math.abs(low), Math.abs(high));
  }

  /** The interval's half width. */
  public double halfWidth() {
    return (high - low) / 2;
  }

  static double quantile(double freedom) {
    double known = Math.min(1e6, Math.max(1, freedom));
    return new TDistribution(known).inverseCumulativeProbability((1 + CONFIDENCE) / 2);
  }
}
