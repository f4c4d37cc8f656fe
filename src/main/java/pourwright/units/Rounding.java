package pourwright.units;

/** The one way from a computed number to a whole one. */
final class Rounding {
  /** First value beyond the range of a {@code long}. */
  private static final double BEYOND = 0x1p63;

  private Rounding() {}

  /**
   * The nearest whole number of a smaller unit, ties to the even one.
   *
   * @param amount in {@code unit}
   * @param perUnit smaller units in one of it
   * @param what the amount is of, for the message
   * @throws ArithmeticException when it is not finite or out of range
   */
  static long nearest(double amount, double perUnit, String what, String unit) {
    double whole = Math.rint(amount * perUnit);
    if (!(Math.abs(whole) < BEYOND)) {
      throw new ArithmeticException("no such " + what + ": " + amount + " " + unit);
    }
    return (long) whole;
  }
}
