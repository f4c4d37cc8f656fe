package pourwright.review;

import java.util.Arrays;
import java.util.Optional;
import pourwright.compare.Comparison.Kind;
import pourwright.statistic.Capability;
import pourwright.statistic.Proportion;

/**
 * One kind of error of one pour, over runs.
 *
 * @param kind of error; mass in g, start in s, flow in g/s
 * @param tolerance of the plan, in the unit of the kind; more than zero
 * @param errors made minus planned
 */
public record Habit(Kind kind, double tolerance, Series errors) {

  /** How many runs landed within tolerance; empty without runs. */
  public Optional<Proportion> within() {
    if (errors.isEmpty()) {
      return Optional.empty();
    }
    long inside =
        Arrays.stream(errors.toArray()).filter(error -> Math.abs(error) <= tolerance).count();
    return Optional.of(new Proportion((int) inside, errors.size()));
  }

  /** Room against spread; empty with fewer than two runs or without any spread. */
  public Optional<Capability> capability() {
    if (errors.spread().orElse(0) == 0) {
      return Optional.empty();
    }
    return Optional.of(
        Capability.of(
            -tolerance, tolerance, 0, errors.mean().orElseThrow(), errors.spread().orElseThrow()));
  }

  /**
   * How much of the mean square error is the mean itself, 0 to 1: near 1 the error is a habit that
   * another aim would take away, near 0 it is scatter.
   */
  public double biasShare() {
    double bias = errors.mean().orElse(0);
    double meanSquare = Arrays.stream(errors.toArray()).map(e -> e * e).average().orElse(0);
    return meanSquare == 0 ? 0 : Math.min(1, bias * bias / meanSquare);
  }
}
