package pourwright.detect;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import pourwright.units.Flow;
import pourwright.units.Mass;

/** The second look at the pours of a scale on which the water lands. */
final class PourRefiner {
  /** A hand is not as even as a straight line: this part of the flow is scatter too (s). */
  private static final double HAND_SECONDS = 0.01;

  /** Its unevenness lasts about so long, so faster readings of it are no news (s). */
  private static final double HAND_MEMORY = 0.12;

  /** Drips and the scale's own creep scatter like this share of a flow. */
  private static final double LEAST_SHARE = 0.4;

  private static final double EDGE_INSIDE = 0.8;
  private static final double EDGE_BEFORE = 2.5;
  private static final double EDGE_AFTER = 0.9;

  /** So long without flow is enough to see an edge by (s). */
  private static final double SEEN_STILL = 0.5;

  /** Room for a lag that is not known yet (s). */
  private static final double MUCH_LAG = 0.35;

  private static final double SHORTEST_POUR = 1.2;
  static final double LEAST_WATER = 2.5;

  /** Ground coffee that is tipped in is no more than this (g). */
  private static final double TIPPED_GRAMS = 30;

  private static final double AFTER_TARE = 0.15;

  private static final double SHORT_LEVEL = 1.0;

  private final Track track;
  private final double edgeLag;
  private final SharedSmoothing smoothing;
  private final List<Step> steps;
  private final List<Findings.Gap> gaps;
  private final double liftAt;
  private final FlowExtent extent;

  private double drift;

  /** The display moved by {@code grams} between two times without water. */
  record Step(double from, double to, double grams, boolean isObject) {}

  PourRefiner(
      Track track,
      Optional<Kernel> knownKernel,
      List<Step> steps,
      List<Findings.Gap> gaps,
      double liftAt) {
    this.track = track;
    this.edgeLag = knownKernel.map(Kernel::lag).orElse(MUCH_LAG);
    this.smoothing = new SharedSmoothing(knownKernel);
    this.steps = List.copyOf(steps);
    this.gaps = List.copyOf(gaps);
    this.liftAt = liftAt;
    this.extent = new FlowExtent(track, liftAt);
  }

  /**
   * A pour between its neighbours.
   *
   * @param before end of the one before, or negative infinity (s)
   * @param after start of the next one, or the lift or end of the recording (s)
   */
  private record Work(PourEdges edges, double before, double after) {}

  List<Findings.Pour> refine(List<Candidate> announced) {
    List<Candidate> candidates = extent.extended(announced);
    drift = extent.restDrift(candidates);
    List<Work> works = new ArrayList<>();
    for (int i = 0; i < candidates.size(); i++) {
      double before = i == 0 ? Double.NEGATIVE_INFINITY : candidates.get(i - 1).end();
      double after =
          i + 1 < candidates.size()
              ? candidates.get(i + 1).start()
              : Math.min(liftAt, track.last());
      PourEdges edges = edges(candidates.get(i), before, after);
      if (edges.hasStart()) {
        works.add(new Work(edges, before, after));
      }
    }
    smoothing.share(works.stream().map(Work::edges).toList());
    RestLevel levels = new RestLevel(track, steps, gaps, drift);
    List<Findings.Pour> pours = new ArrayList<>();
    for (Work work : works) {
      pour(work, pours.size() + 1, levels).ifPresent(pours::add);
    }
    return pours;
  }

  /** How the scale smooths, as known or found. */
  Kernel kernel() {
    return smoothing.kernel();
  }

  private PourEdges edges(Candidate c, double before, double after) {
    double flow = extent.usualFlow(c.start(), c.end());
    double inside = Math.min(EDGE_INSIDE, Math.max(0.5, (c.end() - c.start()) * 0.6));
    EdgeFit startFit =
        edge(
            true,
            c.start(),
            Math.max(c.start() - EDGE_BEFORE, before + 0.8),
            c.start() + 0.3 + inside + edgeLag,
            flow);
    EdgeFit endFit =
        edge(
            false,
            c.end(),
            c.end() - inside - 1.5 * edgeLag,
            Math.min(c.end() + EDGE_AFTER + 2.5 * edgeLag, after - 0.4),
            flow);
    return new PourEdges(c, startFit, endFit, c.end() > track.last() - 0.35);
  }

  /**
   * The unmasked readings of an edge; a gap in it stretches the window to the readings beyond it. A
   * gap some time before the flow or after it bounds the window.
   *
   * @param around where the edge is, roughly (s)
   */
  private EdgeFit edge(boolean isStart, double around, double from, double to, double flow) {
    double low = from;
    double high = to;
    for (Findings.Gap gap : gaps) {
      double gapStart = track.seconds(gap.start());
      double gapEnd = track.seconds(gap.end());
      if (!isStart && gapStart > around + SEEN_STILL) {
        high = Math.min(high, gapStart);
      } else if (isStart && gapEnd < around - SEEN_STILL) {
        low = Math.max(low, gapEnd);
      } else if (gapStart < high && gapEnd > low) {
        if (gapEnd > high - 0.6) {
          high = gapEnd + 1.0;
        }
        if (gapStart < low + 0.6) {
          low = gapStart - 1.0;
        }
      }
    }
    int first = track.indexAt(low);
    int n = 0;
    for (int i = first; i < track.size() && track.time(i) <= high; i++) {
      n += track.isMasked(i) ? 0 : 1;
    }
    double[] t = new double[n];
    double[] m = new double[n];
    double[] noise = new double[n];
    double uneven = HAND_SECONDS * flow * Math.sqrt(Math.max(1, HAND_MEMORY / track.period()));
    int k = 0;
    for (int i = first; i < track.size() && track.time(i) <= high; i++) {
      if (!track.isMasked(i)) {
        t[k] = track.time(i);
        m[k] = track.mass(i) - drift * t[k] - stepsBefore(t[k], low);
        noise[k] = Math.hypot(track.noise(), uneven * flowing(t[k], flow));
        k++;
      }
    }
    return new EdgeFit(isStart, t, m, noise, flow);
  }

  /** Share of the flow that runs at {@code t}: where none runs, the hand scatters nothing. */
  private double flowing(double t, double flow) {
    double reach = Math.max(0.15, 1.2 * track.period());
    Track.Line line = track.line(t - reach, t + reach);
    return line.readings() < 3
        ? 1
        : Math.max(LEAST_SHARE, Math.min(1, Math.abs(line.slope()) / flow));
  }

  /** What the display was moved by between {@code since} and {@code t} (g). */
  private double stepsBefore(double t, double since) {
    double sum = 0;
    for (Step step : steps) {
      if (step.from() > since && step.to() <= t) {
        sum += step.grams();
      }
    }
    return sum;
  }

  private Optional<Findings.Pour> pour(Work work, int index, RestLevel levels) {
    PourEdges edges = work.edges();
    Kernel kernel = smoothing.kernel();
    double flow = edges.start().flow();
    // before the first reading nothing was seen
    double start = Math.max(0, edges.start().moment());
    double end = edges.isRunning() ? track.last() : Math.max(start + 0.1, edges.end().moment());
    double low = levels.before(start, work.before(), kernel);
    double high =
        edges.isRunning()
            ? track.mass(track.size() - 1) + kernel.lag() * flow
            : levels.after(end, work.after(), flow, kernel);
    if (Double.isNaN(high) && edges.hasEnd()) {
      high = levelAtTare(work, end);
    }
    if (Double.isNaN(low) || Double.isNaN(high)) {
      return Optional.empty();
    }
    double water = high - low - drift * (end - start) - stepsWithin(start, end);
    double seconds = end - start;
    boolean isBrief = !edges.isRunning() && seconds < SHORTEST_POUR;
    boolean isTipped = index == 1 && seconds < PourEdges.TIPPED_SECONDS && water < TIPPED_GRAMS;
    if (water < LEAST_WATER
        || water > Judgement.MOST_FLOW * seconds + 3
        || isTipped
        || isBrief
        || wentAgain(water, end, work.after())) {
      return Optional.empty();
    }
    boolean acrossGap =
        gaps.stream()
            .anyMatch(gap -> track.seconds(gap.start()) < end && track.seconds(gap.end()) > start);
    return Optional.of(
        new Findings.Pour(
            index,
            track.moment(start),
            track.moment(end),
            Mass.ofGrams(water),
            Flow.of(Mass.ofGrams(water), Math.max(0.1, end - start)),
            edges.candidate().startSaid(),
            edges.candidate().endSaid(),
            acrossGap));
  }

  /**
   * A tare so soon after the water leaves no level between; what it took off tells the level, else
   * the tail of the pour does (g).
   */
  private double levelAtTare(Work work, double end) {
    for (Step step : steps) {
      if (!step.isObject() && step.from() > end && step.to() < work.after() - SHORT_LEVEL) {
        double from = step.to() + AFTER_TARE;
        double to = Math.min(from + SHORT_LEVEL, work.after() - AFTER_TARE);
        return track.line(from, to).level() - step.grams();
      }
    }
    return work.edges().levelAfter() + drift * end;
  }

  /** What came was taken away again before the next pour: it was no water. */
  private boolean wentAgain(double water, double end, double nextStart) {
    double gone = 0;
    for (Step step : steps) {
      if (step.from() >= end - 0.5 && step.to() <= nextStart && step.isObject()) {
        gone -= step.grams();
      }
    }
    return Math.abs(gone - water) < Math.max(1, 0.1 * water);
  }

  private double stepsWithin(double start, double end) {
    double sum = 0;
    for (Step step : steps) {
      if (step.to() > start && step.from() < end) {
        sum += step.grams();
      }
    }
    return sum;
  }
}
