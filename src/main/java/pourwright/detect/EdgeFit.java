package pourwright.detect;

/**
 * First or last water of a pour, from the shape of the edge.
 *
 * <p>The flow opens (or closes) in a straight ramp of unknown length between nothing and a flow
 * that may drift; what has landed plus the jet's push is seen through the scale's lag. Level, flow
 * and its drift enter linearly and are solved for (variable projection, Golub and Pereyra 1973);
 * moment and length of the ramp are searched.
 */
final class EdgeFit {
  /** A hand takes about 0.3 s to open or close the flow, give or take a half; prior. */
  private static final double USUAL_RAMP = 0.3;

  private static final double RAMP_LOG_SPREAD = 0.45;

  /** A hand changes its flow by about so much of it in a second, circling included; prior. */
  private static final double FLOW_DRIFT = 0.8;

  /** Drips and the scale's creep go on after an end, with about this flow (g/s); prior. */
  private static final double AFTER_FLOW = 0.1;

  private static final double SHORTEST_RAMP = 0.02;
  private static final double LONGEST_RAMP = 2.0;

  private final boolean isStart;
  private final double[] t;
  private final double[] m;
  private final double[] weight;
  private final double flowGuess;
  private Kernel kernel = Kernel.Kind.ONE_STAGE.of(0.1);
  private double push;

  private double level;
  private double flow;
  private double flowDrift;

  /**
   * An edge to fit.
   *
   * @param isStart whether the flow begins here, else it ends
   * @param t times (s)
   * @param m masses, drift of the rest removed (g)
   * @param noise of each reading, the hand's unevenness included (g)
   * @param flowGuess about the flow (g/s)
   */
  EdgeFit(boolean isStart, double[] t, double[] m, double[] noise, double flowGuess) {
    this.isStart = isStart;
    this.t = t;
    this.m = m;
    this.weight = new double[t.length];
    for (int i = 0; i < t.length; i++) {
      weight[i] = 1 / (noise[i] * noise[i]);
    }
    this.flowGuess = Math.max(0.5, flowGuess);
  }

  /**
   * The best edge.
   *
   * @param moment first or last water (s)
   * @param ramp how long the flow took to open or close (s)
   * @param flow of the pour next to the edge (g/s)
   * @param cost sum of squares over the noise, with the priors; comparable between lags
   */
  record Edge(double moment, double ramp, double flow, double cost) {}

  /** Searches the whole window for a start of the search, then refines. */
  Edge fit(Kernel seenThrough, double pushSeconds, double from, double to) {
    kernel = seenThrough;
    push = pushSeconds;
    double bestMoment = (from + to) / 2;
    double bestRamp = USUAL_RAMP;
    double best = Double.POSITIVE_INFINITY;
    for (double moment = from; moment <= to; moment += 0.1) {
      for (double ramp = 0.1; ramp < 1; ramp *= 2.5) {
        double cost = cost(moment, Math.log(ramp));
        if (cost < best) {
          best = cost;
          bestMoment = moment;
          bestRamp = ramp;
        }
      }
    }
    return descend(bestMoment, Math.log(bestRamp), best);
  }

  /** Refines an edge found with another push. */
  Edge refine(Edge near, Kernel seenThrough, double pushSeconds) {
    double later = seenThrough.lag() - kernel.lag();
    kernel = seenThrough;
    push = pushSeconds;
    double logRamp = Math.log(near.ramp());
    double moment = near.moment();
    double best = cost(moment, logRamp);
    for (double shift : new double[] {0, -later / 2, -later, -1.5 * later}) {
      for (double ramp : new double[] {near.ramp(), 0.12, 0.35}) {
        double tried = cost(near.moment() + shift, Math.log(ramp));
        if (tried < best) {
          best = tried;
          moment = near.moment() + shift;
          logRamp = Math.log(ramp);
        }
      }
    }
    return descend(moment, logRamp, best);
  }

  /**
   * Pattern search (Hooke and Jeeves 1961) in the middle and the log of the ramp: the edge as it is
   * seen pins its middle, however long the ramp is, so the two hardly depend on each other.
   */
  private Edge descend(double startMoment, double startLogRamp, double startCost) {
    double logRamp = startLogRamp;
    double middle = startMoment - outer(logRamp);
    double best = startCost;
    double step = 0.08;
    double logStep = 0.4;
    int budget = 160;
    while ((step > 0.002 || logStep > 0.02) && budget > 0) {
      boolean improved = false;
      double[][] tries = {
        {step, 0}, {-step, 0}, {0, logStep}, {0, -logStep}, {step, logStep}, {-step, -logStep}
      };
      for (double[] move : tries) {
        double log = logRamp + move[1];
        double cost = cost(middle + move[0] + outer(log), log);
        budget--;
        if (cost < best - 1e-9) {
          best = cost;
          middle += move[0];
          logRamp = log;
          improved = true;
          break;
        }
      }
      if (!improved) {
        step /= 2;
        logStep /= 2;
      }
    }
    double moment = middle + outer(logRamp);
    double cost = cost(moment, logRamp);
    return new Edge(moment, Math.exp(logRamp), flow, cost);
  }

  /** From the middle of a ramp to the first or last water (s). */
  private double outer(double logRamp) {
    return (isStart ? -1 : 1) * Math.exp(logRamp) / 2;
  }

  private double cost(double moment, double logRamp) {
    double ramp = Math.exp(logRamp);
    if (ramp < SHORTEST_RAMP || ramp > LONGEST_RAMP) {
      return Double.POSITIVE_INFINITY;
    }
    double sum = 0;
    double sFF = 0;
    double sFG = 0;
    double sGG = 0;
    double sF = 0;
    double sG = 0;
    double sY = 0;
    double sFY = 0;
    double sGY = 0;
    double sYY = 0;
    double sH = 0;
    double sHH = 0;
    double sFH = 0;
    double sGH = 0;
    double sHY = 0;
    double base = m[0];
    double lag = kernel.lag();
    double halfSquare = kernel.halfSquare();
    int n = t.length;
    for (int i = 0; i < n; i++) {
      double f;
      double g;
      double y = m[i] - base;
      if (isStart) {
        double a = t[i] - moment;
        double b = a - ramp;
        double a1 = kernel.ramp(a);
        double b1 = kernel.ramp(b);
        double a2 = kernel.bend(a);
        double b2 = kernel.bend(b);
        f = (a2 - b2 + push * (a1 - b1)) / ramp;
        g = b2 + push * b1;
      } else {
        double b = t[i] - moment;
        double a = b + ramp;
        double a1 = kernel.ramp(a);
        double b1 = kernel.ramp(b);
        double a2 = kernel.bend(a);
        double b2 = kernel.bend(b);
        double s1 = a - lag;
        double s2 = a * a / 2 - lag * a + halfSquare;
        f = s1 - (a2 - b2) / ramp + push * (1 - (a1 - b1) / ramp);
        g = s2 - a2 + push * (s1 - a1);
      }
      if (!isStart) {
        double h = kernel.ramp(t[i] - moment);
        double wh = weight[i] * h;
        sH += wh;
        sHH += wh * h;
        sFH += wh * f;
        sGH += wh * g;
        sHY += wh * y;
      }
      double w = weight[i];
      sum += w;
      sF += w * f;
      sG += w * g;
      sY += w * y;
      sFF += w * f * f;
      sFG += w * f * g;
      sGG += w * g * g;
      sFY += w * f * y;
      sGY += w * g * y;
      sYY += w * y * y;
    }
    double ff = sFF - sF * sF / sum + 1e-9;
    double fg = sFG - sF * sG / sum;
    double spread = FLOW_DRIFT * flowGuess;
    double gg = sGG - sG * sG / sum + 1 / (spread * spread);
    double fy = sFY - sF * sY / sum;
    double gy = sGY - sG * sY / sum;
    double yy = sYY - sY * sY / sum;
    double hh = sHH - sH * sH / sum + 1 / (AFTER_FLOW * AFTER_FLOW);
    double fh = sFH - sF * sH / sum;
    double gh = sGH - sG * sH / sum;
    double hy = sHY - sH * sY / sum;
    ff -= fh * fh / hh;
    fg -= fh * gh / hh;
    gg -= gh * gh / hh;
    fy -= fh * hy / hh;
    gy -= gh * hy / hh;
    yy -= hy * hy / hh;
    double det = ff * gg - fg * fg;
    flow = (fy * gg - gy * fg) / det;
    flowDrift = (gy * ff - fy * fg) / det;
    double afterFlow = (hy - flow * fh - flowDrift * gh) / hh;
    level = base + (sY - flow * sF - flowDrift * sG - afterFlow * sH) / sum;
    double squares = yy - flow * fy - flowDrift * gy;
    double prior = (logRamp - Math.log(USUAL_RAMP)) / RAMP_LOG_SPREAD;
    return squares + prior * prior + (flow < 0 ? 1e6 : 0);
  }

  /** How many readings it has to go by. */
  int size() {
    return t.length;
  }

  /** Level of the fit made last (g). */
  double level() {
    return level;
  }
}
