package pourwright.detect;

/**
 * The readings of a stretch of time, seen as a level or a straight line.
 *
 * @param line through them, in seconds and grams from where they are counted from
 * @param base weight from which the line is counted (g)
 * @param variance of the scale at rest (g²)
 * @param isFull whether there are as many readings as the stretch is long
 */
record Stretch(LeastSquares line, double base, double variance, boolean isFull) {
  private static final int LEAST_READINGS = 3;

  /** What scatters by more than so many times the scale's variance is no rest and no flow. */
  private static final double MOST_SCATTER = 4;

  /** A slope that explains more than so many variances is one. */
  private static final double SLOPED = 9;

  /**
   * The readings from {@code first} until {@code to}.
   *
   * @param zero time from which the line is counted (s)
   * @param seconds how long the stretch is meant to be
   */
  static Stretch of(Track track, int first, double to, double zero, double seconds) {
    LeastSquares line = new LeastSquares();
    double base = first < track.size() ? track.mass(first) : 0;
    for (int i = first; i < track.size() && track.time(i) <= to; i++) {
      line.add(track.time(i) - zero, track.mass(i) - base);
    }
    boolean isFull = (line.count() + 1) * track.period() > seconds;
    return new Stretch(line, base, track.noise() * track.noise(), isFull);
  }

  /** Whether nothing but noise keeps its readings off a straight line. */
  boolean isStraight() {
    return line.count() >= LEAST_READINGS
        && isFull
        && line.residual() <= MOST_SCATTER * variance * line.count();
  }

  boolean isFlat() {
    return isStraight() && line.slope() * line.covariance() <= SLOPED * variance;
  }

  /** The mean of its readings (g). */
  double level() {
    return base + line.sumY() / line.count();
  }

  /** The line where it is counted from (g). */
  double atZero() {
    return base + line.intercept();
  }
}
