package pourwright.metrology;

import java.util.ArrayList;
import java.util.List;
import org.hipparchus.distribution.continuous.TDistribution;

/**
 * A list of what makes a result uncertain, and what follows from it by the usual rules.
 *
 * <p>Source: JCGM 100:2008 (GUM), 5.1 and Annex G. All contributions are in the unit of the result.
 */
public record UncertaintyBudget(List<Contribution> contributions) {

  public UncertaintyBudget {
    if (contributions.isEmpty()) {
      throw new IllegalArgumentException("a budget needs at least one contribution");
    }
    contributions = List.copyOf(contributions);
  }

  /**
   * One cause.
   *
   * @param cause in plain words
   * @param standardUncertainty not negative
   * @param freedom degrees of freedom; infinite where it is no estimate from repeats
   */
  public record Contribution(String cause, double standardUncertainty, double freedom) {

    public Contribution {
      if (!(standardUncertainty >= 0) || !(freedom > 0)) {
        throw new IllegalArgumentException(
            cause + ": uncertainty " + standardUncertainty + ", freedom " + freedom);
      }
    }

    /** Anywhere within plus or minus {@code halfWidth}, equally likely. */
    public static Contribution rectangular(String cause, double halfWidth) {
      return new Contribution(cause, halfWidth / Math.sqrt(3), Double.POSITIVE_INFINITY);
    }

    /** A display that steps by {@code step}: half a step either way. */
    public static Contribution ofStep(String cause, double step) {
      return rectangular(cause, step / 2);
    }

    /** From a certificate: expanded uncertainty and its coverage factor. */
    public static Contribution expanded(String cause, double expanded, double factor) {
      return new Contribution(cause, expanded / factor, Double.POSITIVE_INFINITY);
    }

    /** From repeats: standard deviation with {@code count} − 1 degrees of freedom. */
    public static Contribution repeated(String cause, double standardDeviation, int count) {
      return new Contribution(cause, standardDeviation, count - 1.0);
    }
  }

  public static UncertaintyBudget of(Contribution... contributions) {
    return new UncertaintyBudget(List.of(contributions));
  }

  public UncertaintyBudget with(Contribution more) {
    List<Contribution> all = new ArrayList<>(contributions);
    all.add(more);
    return new UncertaintyBudget(all);
  }

  /** Root sum of squares. */
  public double combined() {
    return Math.sqrt(
        contributions.stream()
            .mapToDouble(one -> one.standardUncertainty() * one.standardUncertainty())
            .sum());
  }

  /** Effective degrees of freedom by Welch and Satterthwaite; infinite without repeats. */
  public double effectiveFreedom() {
    double combined = combined();
    if (combined == 0) {
      return Double.POSITIVE_INFINITY;
    }
    double sum =
        contributions.stream()
            .mapToDouble(one -> Math.pow(one.standardUncertainty() / combined, 4) / one.freedom())
            .sum();
    return sum == 0 ? Double.POSITIVE_INFINITY : 1 / sum;
  }

  /**
   * Factor that makes an interval of this confidence, from Student's t at the effective degrees of
   * freedom, rounded down (GUM G.4.1).
   *
   * @param confidence between 0 and 1
   */
  public double coverageFactor(double confidence) {
    // beyond a million degrees t and normal agree to six digits
    double freedom = Math.min(1e6, Math.max(1, Math.floor(effectiveFreedom())));
    return new TDistribution(freedom).inverseCumulativeProbability((1 + confidence) / 2);
  }

  /** Half width of the interval of this confidence. */
  public double expanded(double confidence) {
    return coverageFactor(confidence) * combined();
  }
}
