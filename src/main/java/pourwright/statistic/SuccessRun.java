package pourwright.statistic;

/**
 * What a row of clean runs without a single miss proves.
 *
 * <p>Source: success-run theorem, C = 1 − Rⁿ (zero-failure binomial test).
 */
public final class SuccessRun {

  private SuccessRun() {}

  /**
   * How many clean runs in a row show, with this confidence, at least this share of clean runs: n =
   * ln(1 − C) / ln R, rounded up.
   *
   * @param reliability share of clean runs claimed, between 0 and 1
   * @param confidence between 0 and 1
   */
  public static int runsNeeded(double reliability, double confidence) {
    Interval.requireConfidence(confidence);
    Interval.requireConfidence(reliability);
    // a hair less than the quotient, so that a whole number is not pushed up by rounding
    return (int) Math.ceil(Math.log1p(-confidence) / Math.log(reliability) - 1e-9);
  }

  /**
   * The share of clean runs that a row of them shows.
   *
   * @param runs clean runs in a row, none or more
   * @param confidence between 0 and 1
   */
  public static double reliabilityShown(int runs, double confidence) {
    Interval.requireConfidence(confidence);
    return runs == 0 ? 0 : Math.pow(1 - confidence, 1.0 / runs);
  }
}
