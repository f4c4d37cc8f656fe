package pourwright.statistic;

import org.hipparchus.distribution.continuous.BetaDistribution;
import org.hipparchus.distribution.continuous.NormalDistribution;

/**
 * So many of so many: the share of pours that landed.
 *
 * @param successes from 0 to {@code trials}
 * @param trials at least 1
 */
public record Proportion(int successes, int trials) {

  public Proportion {
    if (trials < 1 || successes < 0 || successes > trials) {
      throw new IllegalArgumentException(successes + " of " + trials);
    }
  }

  public double share() {
    return successes / (double) trials;
  }

  /**
   * The exact interval: covers at least as often as it says, whatever the true share.
   *
   * <p>Source: Clopper and Pearson 1934, Biometrika 26:404, by quantiles of the beta distribution.
   *
   * @param confidence between 0 and 1
   */
  public Interval clopperPearson(double confidence) {
    Interval.requireConfidence(confidence);
    double tail = (1 - confidence) / 2;
    double low =
        successes == 0
            ? 0
            : beta(successes, trials - successes + 1).inverseCumulativeProbability(tail);
    double high =
        successes == trials
            ? 1
            : beta(successes + 1, trials - successes).inverseCumulativeProbability(1 - tail);
    return new Interval(low, high, confidence);
  }

  /**
   * The score interval: shorter, covers as often as it says on average.
   *
   * <p>Source: Wilson 1927, JASA 22:209.
   *
   * @param confidence between 0 and 1
   */
  public Interval wilson(double confidence) {
    Interval.requireConfidence(confidence);
    double z = new NormalDistribution().inverseCumulativeProbability((1 + confidence) / 2);
    double zz = z * z;
    double centre = (successes + zz / 2) / (trials + zz);
    double half =
        z / (trials + zz) * Math.sqrt(successes * (trials - successes) / (double) trials + zz / 4);
    return new Interval(
        successes == 0 ? 0 : centre - half, successes == trials ? 1 : centre + half, confidence);
  }

  private static BetaDistribution beta(double a, double b) {
    return new BetaDistribution(a, b);
  }
}
