package pourwright.detect;

/**
 * A vessel put down or taken off, as the scale's smoothing shows it: the load ramps quickly from
 * one level to another, the display follows by its {@link Kernel}. So a big step is the best
 * measurement of the lag there is.
 */
final class StepFit {
  /** A hand sets down or lifts in this time at most (s). */
  private static final double LONGEST_RAMP = 0.5;

  /** A hand usually takes about this long, give or take a factor of two (s); prior. */
  private static final double USUAL_RAMP = 0.09;

  private static final double RAMP_LOG_SPREAD = 0.6;
  private static final double PRIOR_WEIGHT = 0.3;

  /** Ringing and grip move the weight by this share of the step; it need not fit better. */
  private static final double SLOPPINESS = 0.015;

  private static final double BEFORE = 1.3;
  private static final double AFTER = 2.2;

  private final double[] t;
  private final double[] m;
  private final double noise;

  /**
   * A step to fit.
   *
   * @param near about when it happened (s)
   * @param since what comes before belongs to something else (s)
   * @param limit what comes after belongs to something else (s)
   */
  StepFit(Track track, double near, double since, double limit) {
    int from = track.indexAt(Math.max(since, near - BEFORE));
    int to = track.indexAt(Math.min(limit, near + AFTER));
    t = new double[to - from];
    m = new double[to - from];
    for (int i = from; i < to; i++) {
      t[i - from] = track.time(i) - near;
      m[i - from] = track.mass(i);
    }
    noise = track.noise();
  }

  /**
   * The best step.
   *
   * @param at middle of the load's ramp, after the moment it was sought near (s)
   * @param ramp how long the load took (s)
   * @param height (g)
   * @param misfit mean squared residual over what a sloppy hand explains
   */
  record Fit(double at, double ramp, double height, double misfit) {}

  boolean isUsable() {
    return t.length >= 8;
  }

  /** Roughly how high it is (g). */
  double change() {
    return m[m.length - 1] - m[0];
  }

  Fit fit(Kernel kernel) {
    Fit best = new Fit(0, 0.1, 0, Double.POSITIVE_INFINITY);
    for (double at = -0.4; at <= 0.8; at += 0.08) {
      Fit tried = at(kernel, at, 0.1);
      best = tried.misfit() < best.misfit() ? tried : best;
    }
    double step = 0.05;
    double logStep = 0.5;
    while (step > 0.002) {
      boolean improved = false;
      double[][] moves = {{step, 1}, {-step, 1}, {0, Math.exp(logStep)}, {0, Math.exp(-logStep)}};
      for (double[] move : moves) {
        double ramp = Math.max(0.01, Math.min(LONGEST_RAMP, best.ramp() * move[1]));
        Fit tried = at(kernel, best.at() + move[0], ramp);
        if (tried.misfit() < best.misfit() * (1 - 1e-6)) {
          best = tried;
          improved = true;
        }
      }
      if (!improved) {
        step /= 2;
        logStep /= 2;
      }
    }
    return best;
  }

  private Fit at(Kernel kernel, double at, double ramp) {
    int n = t.length;
    LeastSquares sums = new LeastSquares();
    double base = m[0];
    for (int i = 0; i < n; i++) {
      double x = t[i] - at;
      double shape = (kernel.ramp(x + ramp / 2) - kernel.ramp(x - ramp / 2)) / ramp;
      sums.add(shape, m[i] - base);
    }
    if (sums.spreadX() < 1e-6) {
      return new Fit(at, ramp, 0, Double.POSITIVE_INFINITY);
    }
    double height = sums.slope();
    double squares = sums.residual();
    double usual = Math.hypot(noise, SLOPPINESS * change());
    double unusual = Math.log(ramp / USUAL_RAMP) / RAMP_LOG_SPREAD;
    double misfit = squares / n / (usual * usual) + PRIOR_WEIGHT * unusual * unusual;
    return new Fit(at, ramp, height, misfit);
  }
}
