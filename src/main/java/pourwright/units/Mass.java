package pourwright.units;

import java.math.BigDecimal;
import java.math.RoundingMode;

/**
 * A mass, or a difference of masses, held exactly.
 *
 * <p>The grain is 64.798 91 mg by definition, so nanograms are the coarsest whole unit in which
 * gram, kilogram, grain, avoirdupois ounce and pound are all integers. A {@code long} of them
 * reaches ±9.2 million kilograms.
 *
 * @param nanograms signed mass (ng)
 */
public record Mass(long nanograms) implements Comparable<Mass> {
  public static final Mass ZERO = new Mass(0);

  private static final long NANOGRAMS_PER_GRAM = 1_000_000_000L;
  private static final long NANOGRAMS_PER_MILLIGRAM = 1_000_000L;

  public static Mass ofNanograms(long nanograms) {
    return new Mass(nanograms);
  }

  public static Mass ofMilligrams(long milligrams) {
    return new Mass(Math.multiplyExact(milligrams, NANOGRAMS_PER_MILLIGRAM));
  }

  /**
   * The nearest whole nanogram to a computed mass.
   *
   * @param grams finite mass (g)
   * @throws ArithmeticException when not finite or out of range
   */
  public static Mass ofGrams(double grams) {
    return new Mass(Rounding.nearest(grams, NANOGRAMS_PER_GRAM, "mass", "g"));
  }

  /**
   * The mass that was written as {@code amount} of {@code unit}; exact where it is a whole number
   * of nanograms, else rounded half to even.
   *
   * @throws ArithmeticException when out of range
   */
  public static Mass of(BigDecimal amount, MassUnit unit) {
    return new Mass(
        amount
            .multiply(BigDecimal.valueOf(unit.nanograms()))
            .setScale(0, RoundingMode.HALF_EVEN)
            .longValueExact());
  }

  public Mass plus(Mass other) {
    return new Mass(Math.addExact(nanograms, other.nanograms));
  }

  public Mass minus(Mass other) {
    return new Mass(Math.subtractExact(nanograms, other.nanograms));
  }

  public Mass negated() {
    return new Mass(Math.negateExact(nanograms));
  }

  public Mass abs() {
    return nanograms < 0 ? negated() : this;
  }

  public boolean isNegative() {
    return nanograms < 0;
  }

  /** For arithmetic that is not exact anyway, and for the edges (g). */
  public double grams() {
    return nanograms / (double) NANOGRAMS_PER_GRAM;
  }

  @Override
  public int compareTo(Mass other) {
    return Long.compare(nanograms, other.nanograms);
  }

  /** Exact, with its unit: {@code 12.34 g}. */
  @Override
  public String toString() {
    return BigDecimal.valueOf(nanograms, 9).stripTrailingZeros().toPlainString() + " g";
  }
}
