package pourwright.detect;

/**
 * First and last water of one pour while they are being fitted.
 *
 * <p>The fits are made anew for every smoothing of the scale and push of the jet that is tried;
 * what stands here is the newest.
 */
final class PourEdges {
  /** Ground coffee falls in within this time (s) and tells nothing of the jet. */
  static final double TIPPED_SECONDS = 1.8;

  /** Fewer readings are no edge. */
  private static final int LEAST_READINGS = 5;

  /** How far from where the edges seem to be they are sought (s). */
  private static final double EARLIER_START = 0.7;

  private static final double LATER_START = 0.5;
  private static final double AROUND_END = 0.6;

  /** What a reading costs at most (squared standard deviations). */
  private static final double WORST_MISFIT = 6;

  private final Candidate candidate;
  private final EdgeFit startFit;
  private final EdgeFit endFit;
  private final boolean isRunning;
  private EdgeFit.Edge start;
  private EdgeFit.Edge end;

  /**
   * Edges that are not fitted yet.
   *
   * @param isRunning whether the recording stops in the pour, so that it has no end
   */
  PourEdges(Candidate candidate, EdgeFit startFit, EdgeFit endFit, boolean isRunning) {
    this.candidate = candidate;
    this.startFit = startFit;
    this.endFit = endFit;
    this.isRunning = isRunning;
    this.start = new EdgeFit.Edge(candidate.start(), 0.3, 1, 0);
    this.end = new EdgeFit.Edge(candidate.end(), 0.3, 1, 0);
  }

  Candidate candidate() {
    return candidate;
  }

  boolean isRunning() {
    return isRunning;
  }

  boolean hasStart() {
    return startFit.size() >= LEAST_READINGS;
  }

  boolean hasEnd() {
    return !isRunning && endFit.size() >= LEAST_READINGS;
  }

  /** Long enough to tell something of scale and jet. */
  boolean isLong() {
    return candidate.end() - candidate.start() > TIPPED_SECONDS;
  }

  EdgeFit.Edge start() {
    return start;
  }

  EdgeFit.Edge end() {
    return end;
  }

  /** Level after the end as the end was fitted last (g, drift of the rest removed). */
  double levelAfter() {
    return endFit.level();
  }

  /** Both edges, searched anew for this smoothing and this push of the jet (s). */
  void fit(Kernel kernel, double push) {
    double lag = kernel.lag();
    double first = candidate.start();
    start = startFit.fit(kernel, push, first - EARLIER_START - lag, first + LATER_START);
    if (hasEnd()) {
      double last = candidate.end();
      end = endFit.fit(kernel, push, last - AROUND_END - lag, last + AROUND_END);
    }
  }

  /** Both edges, sought near where they are. */
  void refine(Kernel kernel, double push) {
    start = startFit.refine(start, kernel, push);
    if (hasEnd()) {
      end = endFit.refine(end, kernel, push);
    }
  }

  /** What the edges would cost with this smoothing and push; they stay as they are. */
  double costOf(Kernel kernel, double push) {
    double cost = startFit.refine(start, kernel, push).cost();
    return hasEnd() ? cost + endFit.refine(end, kernel, push).cost() : cost;
  }

  /** What they cost; an edge that no smoothing explains must not decide for all others. */
  double cost() {
    double cost = Math.min(start.cost(), WORST_MISFIT * startFit.size());
    return hasEnd() ? cost + Math.min(end.cost(), WORST_MISFIT * endFit.size()) : cost;
  }

  /** How many readings they are fitted to. */
  int readings() {
    return startFit.size() + (hasEnd() ? endFit.size() : 0);
  }
}
