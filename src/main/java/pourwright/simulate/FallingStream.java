package pourwright.simulate;

/**
 * Water between kettle and rig: what leaves the spout lands a fall later, and pushes as it lands
 * (force of a jet: mass flow times speed).
 */
final class FallingStream {
  /** Standard gravity (m/s²), by definition. */
  private static final double GRAVITY = 9.80665;

  private final double[] inFlight;
  private final double pushSeconds;
  private int next;

  /**
   * @param heightMetres from spout to bed
   * @param stepSeconds length of one step
   */
  FallingStream(double heightMetres, double stepSeconds) {
    double fallSeconds = Math.sqrt(2 * heightMetres / GRAVITY);
    this.inFlight = new double[Math.max(1, (int) Math.round(fallSeconds / stepSeconds))];
    this.pushSeconds = Math.sqrt(2 * GRAVITY * heightMetres) / GRAVITY;
  }

  /** How long water falls (s). */
  double fallSeconds(double stepSeconds) {
    return inFlight.length * stepSeconds;
  }

  /**
   * One step on.
   *
   * @param leaving flow at the spout (g/s)
   * @return flow that lands (g/s)
   */
  double step(double leaving) {
    double landing = inFlight[next];
    inFlight[next] = leaving;
    next = next + 1 == inFlight.length ? 0 : next + 1;
    return landing;
  }

  /** The push of a landing flow (g/s), in grams of weight. */
  double pushGrams(double landing) {
    return landing * pushSeconds;
  }
}
