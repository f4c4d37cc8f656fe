package pourwright.performance;

import java.util.List;

/**
 * A straight line through zero and the errors at several loads, each weighted by its own
 * uncertainty, and what is left of the errors.
 *
 * @param span error per load (g per g)
 * @param rests what the line leaves at each load
 */
public record Linearity(Estimate span, List<LoadError> rests) {

  public Linearity {
    rests = List.copyOf(rests);
  }

  /**
   * Of at least two loads above zero.
   *
   * @throws IllegalArgumentException with fewer
   */
  public static Linearity of(List<LoadError> errors) {
    if (errors.size() < 2) {
      throw new IllegalArgumentException("a line needs two loads, has " + errors.size());
    }
    double moments = 0;
    double products = 0;
    for (LoadError one : errors) {
      double weight = 1 / square(one.error().standardUncertainty());
      moments += weight * square(one.loadGrams());
      products += weight * one.loadGrams() * one.error().value();
    }
    double slope = products / moments;
    double slopeVariance = 1 / moments;
    List<LoadError> rests =
        errors.stream()
            .map(
                one ->
                    new LoadError(
                        one.loadGrams(),
                        Estimate.of(
                            one.error().value() - slope * one.loadGrams(),
                            Math.sqrt(
                                Math.max(
                                    0,
                                    square(one.error().standardUncertainty())
                                        - slopeVariance * square(one.loadGrams()))),
                            freedomBehind(one.error()))))
            .toList();
    double freedom = errors.stream().mapToDouble(e -> freedomBehind(e.error())).min().orElse(1);
    return new Linearity(Estimate.of(slope, Math.sqrt(slopeVariance), freedom), rests);
  }

  /** The load whose error strays most from the line. */
  public LoadError worst() {
    return rests.stream()
        .max(java.util.Comparator.comparingDouble((LoadError one) -> Math.abs(one.error().value())))
        .orElseThrow();
  }

  /** The degrees of freedom that make this interval of this uncertainty, to the nearest whole. */
  private static double freedomBehind(Estimate estimate) {
    double factor = estimate.halfWidth() / estimate.standardUncertainty();
    for (int freedom = 1; freedom < 200; freedom++) {
      if (Estimate.quantile(freedom) <= factor * (1 + 1e-9)) {
        return freedom;
      }
    }
    return Double.POSITIVE_INFINITY;
  }

  private static double square(double x) {
    return x * x;
  }
}
