package pourwright.statistic;

/**
 * How well a normal source fits between two limits.
 *
 * <p>Source: NIST/SEMATECH e-Handbook 6.1.6. Above 1.33 is commonly called capable.
 *
 * @param cp room against spread, wherever the middle is
 * @param cpk room against spread on the tighter side; negative when the mean is outside
 * @param cpm like {@code cp}, with distance from the target counted as spread
 */
public record Capability(double cp, double cpk, double cpm) {

  /**
   * From mean and standard deviation.
   *
   * @param standardDeviation positive, same unit as all others
   * @throws IllegalArgumentException when the limits are not in order or there is no spread
   */
  public static Capability of(
      double lower, double upper, double target, double mean, double standardDeviation) {
    if (!(lower < upper)) {
      throw new IllegalArgumentException("limits " + lower + " and " + upper);
    }
    if (!(standardDeviation > 0)) {
      throw new IllegalArgumentException("no spread: " + standardDeviation);
    }
    double room = upper - lower;
    double offTarget = mean - target;
    return new Capability(
        room / (6 * standardDeviation),
        Math.min(upper - mean, mean - lower) / (3 * standardDeviation),
        room / (6 * Math.sqrt(standardDeviation * standardDeviation + offTarget * offTarget)));
  }
}
