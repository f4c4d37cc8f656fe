package pourwright.units;

import java.math.BigDecimal;

/**
 * Mass per time, held as a whole number.
 *
 * @param nanogramsPerSecond signed flow (ng/s); positive when the weighed mass grows
 */
public record Flow(long nanogramsPerSecond) implements Comparable<Flow> {
  public static final Flow ZERO = new Flow(0);

  private static final double NANOGRAMS_PER_GRAM = 1e9;

  public static Flow ofNanogramsPerSecond(long nanogramsPerSecond) {
    return new Flow(nanogramsPerSecond);
  }

  /**
   * The nearest whole ng/s to a computed flow.
   *
   * @param gramsPerSecond finite flow (g/s)
   * @throws ArithmeticException when not finite or out of range
   */
  public static Flow ofGramsPerSecond(double gramsPerSecond) {
    return new Flow(Rounding.nearest(gramsPerSecond, NANOGRAMS_PER_GRAM, "flow", "g/s"));
  }

  /**
   * The mean flow of {@code mass} in {@code seconds}.
   *
   * @param seconds positive length of time (s)
   * @throws ArithmeticException when {@code seconds} is not positive
   */
  public static Flow of(Mass mass, double seconds) {
    if (!(seconds > 0)) {
      throw new ArithmeticException("no flow over " + seconds + " s");
    }
    return ofGramsPerSecond(mass.grams() / seconds);
  }

  public Flow minus(Flow other) {
    return new Flow(Math.subtractExact(nanogramsPerSecond, other.nanogramsPerSecond));
  }

  /** What this flow carries in {@code seconds} (s). */
  public Mass during(double seconds) {
    return Mass.ofGrams(gramsPerSecond() * seconds);
  }

  /** For arithmetic that is not exact anyway, and for the edges (g/s). */
  public double gramsPerSecond() {
    return nanogramsPerSecond / NANOGRAMS_PER_GRAM;
  }

  @Override
  public int compareTo(Flow other) {
    return Long.compare(nanogramsPerSecond, other.nanogramsPerSecond);
  }

  /** Exact, with its unit: {@code 5.5 g/s}. */
  @Override
  public String toString() {
    return BigDecimal.valueOf(nanogramsPerSecond, 9).stripTrailingZeros().toPlainString() + " g/s";
  }
}
