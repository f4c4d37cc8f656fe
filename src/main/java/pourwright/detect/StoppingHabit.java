package pourwright.detect;

/**
 * How much still lands once the brewer stops: the run-on, as time at the flow before, learned from
 * the pours of the run. A flow that closes evenly over d seconds brings d/2 seconds' worth more;
 * how long it took is fitted to the end of each pour as hindsight does, once and with what has
 * arrived.
 */
final class StoppingHabit {
  /** Before the first pour (s); prior, own trials. */
  private static final double USUAL_RUN_ON = 0.2;

  private static final double USUAL_SPREAD = 0.1;

  /** Pours that the prior counts for. */
  private static final double PRIOR_POURS = 1.5;

  private static final double MOST_RUN_ON = 0.6;

  /** How much of the flow before an end is looked at (s). */
  private static final double BEFORE = 1.2;

  private static final int LEAST_BINS = 8;

  /** A hand is uneven by so much time of its flow (s); as in hindsight. */
  private static final double HAND_SECONDS = 0.01;

  private double pours = PRIOR_POURS;
  private double sum = PRIOR_POURS * USUAL_RUN_ON;
  private double squares =
      PRIOR_POURS * (USUAL_RUN_ON * USUAL_RUN_ON + USUAL_SPREAD * USUAL_SPREAD);

  /**
   * Takes in an end that was just announced.
   *
   * @param stop about the last water (s)
   * @param flow before it (g/s)
   * @param lag of the scale (s)
   */
  void see(Signal signal, double stop, double flow, double lag) {
    int bins = signal.binsSince(stop - BEFORE);
    if (!(flow > Judgement.LEAST_FLOW) || bins < LEAST_BINS) {
      return;
    }
    double[] t = new double[bins];
    double[] m = new double[bins];
    double[] noise = new double[bins];
    double uneven = HAND_SECONDS * flow;
    for (int i = 0; i < bins; i++) {
      int back = bins - 1 - i;
      t[i] = signal.time(back) - stop;
      m[i] = signal.mass(back);
      noise[i] = Math.hypot(signal.noise(), uneven);
    }
    EdgeFit edge = new EdgeFit(false, t, m, noise, flow);
    take(edge.fit(Kernel.Kind.ONE_STAGE.of(lag), 0, -0.5, 0.8).ramp() / 2);
  }

  /** Takes in a run-on (s). */
  void take(double seconds) {
    double runOn = Math.min(MOST_RUN_ON, seconds);
    pours++;
    sum += runOn;
    squares += runOn * runOn;
  }

  /** Expected run-on (s). */
  double seconds() {
    return sum / pours;
  }

  /** Its standard deviation from pour to pour (s). */
  double spreadSeconds() {
    return Math.sqrt(Math.max(0, squares / pours - seconds() * seconds()) * (1 + 1 / pours));
  }
}
