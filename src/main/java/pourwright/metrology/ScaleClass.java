package pourwright.metrology;

import pourwright.units.Mass;

/**
 * Accuracy classes of weighing instruments and the error steps each allows: a yardstick for a
 * brewer's scale, which is seldom verified to any of them.
 *
 * <p>Source: OIML R 76-1 (2006), Table 6 (initial verification); in service twice as much (3.5.2,
 * from memory).
 */
public enum ScaleClass {
  I(50_000, 200_000),
  II(5_000, 20_000),
  III(500, 2_000),
  IIII(50, 200);

  private final long firstStep;
  private final long secondStep;

  ScaleClass(long firstStep, long secondStep) {
    this.firstStep = firstStep;
    this.secondStep = secondStep;
  }

  /**
   * Largest error on initial verification, both ways.
   *
   * @param load on the scale, not negative
   * @param interval verification interval e, positive
   * @throws IllegalArgumentException when either is not
   */
  public Mass largestError(Mass load, Mass interval) {
    if (load.isNegative() || interval.compareTo(Mass.ZERO) <= 0) {
      throw new IllegalArgumentException("load " + load + ", interval " + interval);
    }
    long halves =
        atMost(load, interval, firstStep) ? 1 : atMost(load, interval, secondStep) ? 2 : 3;
    return Mass.ofNanograms(Math.multiplyExact(halves, interval.nanograms()) / 2);
  }

  /** Largest error in service, both ways: twice that of initial verification. */
  public Mass largestErrorInService(Mass load, Mass interval) {
    Mass first = largestError(load, interval);
    return first.plus(first);
  }

  private static boolean atMost(Mass load, Mass interval, long steps) {
    return load.nanograms() <= Math.multiplyExact(steps, interval.nanograms());
  }
}
