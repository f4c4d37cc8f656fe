package pourwright.detect;

/**
 * When a finished outflow bent, seen from both sides: a parabola, and from some moment on a power
 * of the time since then beside it, by least squares.
 */
final class BendFit {
  /** A bend that was announced is no further off (s). */
  private static final double MOST_OFF_SECONDS = 2.5;

  /** So much more is fitted before a bend upward, and on the other sides of both (s). */
  private static final double BEFORE_RISE_SECONDS = 2;

  private static final double BESIDE_SECONDS = 1;

  private static final double GRID_SECONDS = 0.05;

  /** An outflow never bends so close to another bend (s). */
  private static final double APART_SECONDS = 0.2;

  /** Water on a dry bed starts an outflow at once, on a wet one it swells. */
  private static final double[] UPWARD_POWERS = {1, 1.5, 2};

  private static final double[] DOWNWARD_POWERS = {2};

  private final Track track;

  /** What had run out by each reading (g). */
  private final double[] ran;

  private final LinearFit fit = new LinearFit(4);
  private final double[] functions = new double[4];

  BendFit(Track track, Outflow outflow) {
    this.track = track;
    this.ran = new double[track.size()];
    for (int i = 0; i < ran.length; i++) {
      ran[i] = outflow.ranBy(i);
    }
  }

  /**
   * The bend about {@code at}.
   *
   * @param low the bend before it (s)
   * @param high the bend after it, or the end of the recording (s)
   * @return {@code at} where the outflow does not bend that way (s)
   */
  double find(double at, double low, double high, boolean isUpward) {
    double before = isUpward ? BEFORE_RISE_SECONDS : BESIDE_SECONDS;
    double from = Math.max(low, at - MOST_OFF_SECONDS - before);
    // what swells is no parabola for long
    double to = Math.min(high, at + BESIDE_SECONDS + (isUpward ? 0 : MOST_OFF_SECONDS));
    double best = Double.POSITIVE_INFINITY;
    double found = at;
    double first = Math.max(low + APART_SECONDS, at - MOST_OFF_SECONDS);
    double last = Math.min(high - APART_SECONDS, at + MOST_OFF_SECONDS);
    for (double knot = first; knot <= last; knot += GRID_SECONDS) {
      for (double power : isUpward ? UPWARD_POWERS : DOWNWARD_POWERS) {
        double squares = squares(knot, power, from, to);
        if (squares < best && isUpward == fit.coefficient(3) > 0) {
          best = squares;
          found = knot;
        }
      }
    }
    return found;
  }

  private double squares(double knot, double power, double from, double to) {
    fit.clear();
    int first = track.indexAt(from);
    double base = first < ran.length ? ran[first] : 0;
    for (int i = first; i < track.size() && track.time(i) <= to; i++) {
      if (!track.isMasked(i)) {
        double x = track.time(i) - knot;
        functions[0] = 1;
        functions[1] = x;
        functions[2] = x * x;
        functions[3] = x > 0 ? Math.pow(x, power) : 0;
        fit.add(functions, ran[i] - base);
      }
    }
    return fit.solve();
  }
}
