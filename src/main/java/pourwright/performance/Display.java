package pourwright.performance;

import java.util.List;

/**
 * What one reading is worth.
 *
 * @param stepGrams the least change the display shows (g)
 * @param noise standard deviation of one reading at rest, before rounding (g)
 * @param leastChangeGrams the least change that two single readings tell apart with 95 % (g)
 */
public record Display(double stepGrams, Estimate noise, double leastChangeGrams) {
  /** Two-sided 95 % of a normal value. */
  private static final double TWO_SIDED = 1.959963984540054;

  /** How well noise is known that is mostly rounded away (steps); own choice. */
  private static final double UNSURE_STEPS = 0.05;

  /**
   * From plateaus of at least three readings each.
   *
   * @param stepGrams of the display, zero when it was never seen to change
   */
  public static Display of(List<Plateau> plateaus, double stepGrams) {
    double noise = Rounding.noiseBehind(plateaus, stepGrams);
    double freedom = Math.max(1, plateaus.stream().mapToDouble(one -> one.count() - 2).sum());
    // where rounding hides the noise, its size is known only to be less than what would show
    double shown = Math.sqrt(Rounding.pooledVariance(plateaus));
    Estimate deviation = Estimate.ofDeviation(Math.max(noise, 1e-12), freedom);
    double blur = noise < stepGrams / 2 ? stepGrams / 4 : 0;
    Estimate honest =
        new Estimate(
            noise,
            Math.hypot(deviation.standardUncertainty(), blur / Math.sqrt(3)),
            Math.max(0, deviation.low() - blur),
            Math.max(deviation.high(), Math.max(noise, shown)) + blur);
    double one = Math.sqrt(noise * noise + stepGrams * stepGrams / 12);
    return new Display(stepGrams, honest, TWO_SIDED * Math.sqrt(2) * one);
  }

  /** Standard uncertainty of a plateau of {@code count} readings (g): noise and rounding. */
  public double plateauUncertainty(int count) {
    return Math.hypot(noise.value() / Math.sqrt(count), roundingUncertainty());
  }

  /**
   * Standard uncertainty of the mean of many readings from rounding alone (g). Noise that is itself
   * known badly, because most of it is rounded away, is not trusted to blur the steps so well.
   */
  public double roundingUncertainty() {
    double sure =
        noise.value() < stepGrams / 2
            ? Math.max(0, noise.value() - stepGrams * UNSURE_STEPS)
            : noise.value();
    return Math.sqrt(Rounding.variance(stepGrams, sure));
  }
}
