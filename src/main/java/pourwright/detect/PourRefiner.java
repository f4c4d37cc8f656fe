package pourwright.detect;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import pourwright.units.Flow;
import pourwright.units.Mass;

/** The second look at the pours of a scale on which the water lands. */
final class PourRefiner {
  /** Lags that are tried when none was given (s); kitchen scales are somewhere here. */
  private static final double[] LAGS = {0.01, 0.06, 0.12, 0.2, 0.3, 0.4, 0.55, 0.75, 1.0};

  /** Push of the jet as time of flow (s): speed of fall over g, for falls of 0 to 45 cm. */
  private static final double[] PUSHES = {0, 0.1, 0.2, 0.3};

  /** A hand is not as even as a straight line: this part of the flow is scatter too (s). */
  private static final double HAND_SECONDS = 0.01;

  /** Its unevenness lasts about so long, so faster readings of it are no news (s). */
  private static final double HAND_MEMORY = 0.12;

  /** Drips and the scale's own creep scatter like this share of a flow. */
  private static final double LEAST_SHARE = 0.4;

  /** Lag of a kitchen scale, give or take a factor of two and a half (s); prior. */
  private static final double USUAL_LAG = 0.15;

  private static final double LAG_LOG_SPREAD = 0.9;

  private static final double USUAL_PUSH = 0.1;

  private static final double EDGE_INSIDE = 0.8;
  private static final double EDGE_BEFORE = 2.5;
  private static final double EDGE_AFTER = 0.9;

  /** So long without flow is enough to see an edge by (s). */
  private static final double SEEN_STILL = 0.5;

  /** Room for a lag that is not known yet (s). */
  private static final double MUCH_LAG = 0.35;

  private static final double SHORTEST_POUR = 1.2;
  static final double LEAST_WATER = 2.5;

  /** Ground coffee falls in within this time, and is no more than this. */
  private static final double TIPPED_SECONDS = 1.8;

  private static final double TIPPED_GRAMS = 30;

  /**
   * A scale that follows big steps at once and smooths small changes has another lag in a pour than
   * at a step. Only what explains the edges so much better, with a longer lag, shows that.
   */
  private static final double WORSE = 1.5;

  private static final double SLOWER = 1.25;

  private static final double AFTER_TARE = 0.15;

  private static final double SHORT_LEVEL = 1.0;

  /** What a reading costs at most (squared standard deviations). */
  private static final double WORST_MISFIT = 6;

  /** Hands close a flow in less (s); own choice. */
  private static final double SLOW_CLOSING = 0.7;

  private final Track track;
  private final Optional<Kernel> knownKernel;
  private final List<Step> steps;
  private final List<Findings.Gap> gaps;
  private final double liftAt;
  private final FlowExtent extent;

  private Kernel kernel;
  private double push;
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
    this.knownKernel = knownKernel;
    this.kernel = knownKernel.orElse(Kernel.Kind.ONE_STAGE.of(USUAL_LAG));
    this.steps = List.copyOf(steps);
    this.gaps = List.copyOf(gaps);
    this.liftAt = liftAt;
    this.extent = new FlowExtent(track, liftAt);
  }

  /** Both edges of a pour while they are being fitted. */
  private static final class Work {
    private final Candidate candidate;
    private final double before;
    private final double after;
    private EdgeFit startFit;
    private EdgeFit endFit;
    private EdgeFit.Edge start;
    private EdgeFit.Edge end;
    private boolean isRunning;

    Work(Candidate candidate, double before, double after) {
      this.candidate = candidate;
      this.before = before;
      this.after = after;
      this.startFit = new EdgeFit(true, new double[0], new double[0], new double[0], 1);
      this.endFit = startFit;
      this.start = new EdgeFit.Edge(candidate.start(), 0.3, 1, 0);
      this.end = new EdgeFit.Edge(candidate.end(), 0.3, 1, 0);
    }
  }

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
      works.add(new Work(candidates.get(i), before, after));
    }
    works.removeIf(work -> !prepare(work));
    shareLag(works);
    RestLevel levels = new RestLevel(track, steps, gaps, drift);
    List<Findings.Pour> pours = new ArrayList<>();
    for (Work work : works) {
      pour(work, pours.size() + 1, levels).ifPresent(pours::add);
    }
    return pours;
  }

  /** How the scale smooths, as known or found. */
  Kernel kernel() {
    return kernel;
  }

  private boolean prepare(Work work) {
    Candidate c = work.candidate;
    double length = c.end() - c.start();
    double flow = extent.usualFlow(c.start(), c.end());
    double inside = Math.min(EDGE_INSIDE, Math.max(0.5, length * 0.6));
    double lag = knownKernel.map(Kernel::lag).orElse(MUCH_LAG);
    work.startFit =
        edge(
            true,
            c.start(),
            Math.max(c.start() - EDGE_BEFORE, work.before + 0.8),
            c.start() + 0.3 + inside + lag,
            flow);
    work.isRunning = c.end() > track.last() - 0.35;
    work.endFit =
        edge(
            false,
            c.end(),
            c.end() - inside - 1.5 * lag,
            Math.min(c.end() + EDGE_AFTER + 2.5 * lag, work.after - 0.4),
            flow);
    if (work.startFit.size() < 5) {
      return false;
    }
    fit(work, kernel, USUAL_PUSH);
    return true;
  }

  /** Both edges, searched anew for this smoothing. */
  private static void fit(Work work, Kernel seenThrough, double jet) {
    Candidate c = work.candidate;
    double lag = seenThrough.lag();
    work.start = work.startFit.fit(seenThrough, jet, c.start() - 0.7 - lag, c.start() + 0.5);
    if (hasEnd(work)) {
      work.end = work.endFit.fit(seenThrough, jet, c.end() - 0.6 - lag, c.end() + 0.6);
    }
  }

  /** Grounds tipped in tell nothing of the jet. */
  private static boolean isLong(Work work) {
    return work.candidate.end() - work.candidate.start() > TIPPED_SECONDS;
  }

  private static boolean hasEnd(Work work) {
    return !work.isRunning && work.endFit.size() >= 5;
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

  /** Lag and push that explain all edges of the recording best (profile likelihood). */
  private void shareLag(List<Work> works) {
    double known = knownKernel.isEmpty() ? Double.POSITIVE_INFINITY : cost(works);
    if (known > readings(works) || closesSlowly(works)) {
      Kernel seen = kernelOfEdges(works);
      boolean isFaster = seen.lag() < SLOWER * kernel.lag();
      works.forEach(work -> fit(work, seen, USUAL_PUSH));
      if (knownKernel.isPresent() && (isFaster || known < WORSE * cost(works))) {
        works.forEach(work -> fit(work, kernel, USUAL_PUSH));
      } else {
        kernel = seen;
      }
    }
    double best = Double.POSITIVE_INFINITY;
    for (double tried : PUSHES) {
      double cost = 0;
      for (Work work : works) {
        if (isLong(work)) {
          cost += work.startFit.refine(work.start, kernel, tried).cost();
          cost += hasEnd(work) ? work.endFit.refine(work.end, kernel, tried).cost() : 0;
        }
      }
      if (cost < best) {
        best = cost;
        push = tried;
      }
    }
    for (Work work : works) {
      work.start = work.startFit.refine(work.start, kernel, push);
      if (hasEnd(work)) {
        work.end = work.endFit.refine(work.end, kernel, push);
      }
    }
  }

  /** Of both edges; one that no smoothing explains must not decide for all others. */
  private static double cost(Work work) {
    double start = Math.min(work.start.cost(), WORST_MISFIT * work.startFit.size());
    return hasEnd(work)
        ? start + Math.min(work.end.cost(), WORST_MISFIT * work.endFit.size())
        : start;
  }

  private static double cost(List<Work> works) {
    double cost = 0;
    for (Work work : works) {
      if (isLong(work)) {
        cost += cost(work);
      }
    }
    return cost;
  }

  /** Whether the flow seems to close more slowly than hands do: then it is the scale. */
  private static boolean closesSlowly(List<Work> works) {
    return works.stream()
            .filter(work -> isLong(work) && hasEnd(work))
            .mapToDouble(work -> work.end.ramp())
            .average()
            .orElse(0)
        > SLOW_CLOSING;
  }

  /** How many readings the edges are fitted to. */
  private static int readings(List<Work> works) {
    int readings = 0;
    for (Work work : works) {
      if (isLong(work)) {
        readings += work.startFit.size() + (hasEnd(work) ? work.endFit.size() : 0);
      }
    }
    return readings;
  }

  /** Without a step to measure it by, the smoothing that makes the pours' edges likeliest. */
  private Kernel kernelOfEdges(List<Work> works) {
    Kernel found = kernel;
    double best = Double.POSITIVE_INFINITY;
    for (Kernel tried : kernels()) {
      double unusual = Math.log(tried.lag() / USUAL_LAG) / LAG_LOG_SPREAD;
      double cost = unusual * unusual;
      for (Work work : works) {
        // No edge costs less than nothing: what is dearer already cannot become the best.
        if (cost >= best) {
          break;
        }
        if (isLong(work)) {
          fit(work, tried, USUAL_PUSH);
          cost += cost(work);
        }
      }
      if (cost < best) {
        best = cost;
        found = tried;
      }
    }
    return found;
  }

  private static List<Kernel> kernels() {
    List<Kernel> all = new ArrayList<>();
    for (Kernel.Kind kind : Kernel.Kind.values()) {
      for (double lag : LAGS) {
        all.add(kind.of(lag));
      }
    }
    return all;
  }

  private Optional<Findings.Pour> pour(Work work, int index, RestLevel levels) {
    double start = work.start.moment();
    double end = work.isRunning ? track.last() : Math.max(start + 0.1, work.end.moment());
    double low = levels.before(start, work.before, kernel);
    double high =
        work.isRunning
            ? track.mass(track.size() - 1) + kernel.lag() * work.start.flow()
            : levels.after(end, work.after, work.start.flow(), kernel);
    if (Double.isNaN(high) && hasEnd(work)) {
      high = levelAtTare(work, end);
    }
    if (Double.isNaN(low) || Double.isNaN(high)) {
      return Optional.empty();
    }
    double water = high - low - drift * (end - start) - stepsWithin(start, end);
    double seconds = end - start;
    boolean isBrief = !work.isRunning && seconds < SHORTEST_POUR;
    boolean isTipped = index == 1 && seconds < TIPPED_SECONDS && water < TIPPED_GRAMS;
    if (water < LEAST_WATER
        || water > Judgement.MOST_FLOW * seconds + 3
        || isTipped
        || isBrief
        || wentAgain(water, end, work.after)) {
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
            work.candidate.startSaid(),
            work.candidate.endSaid(),
            acrossGap));
  }

  /**
   * A tare so soon after the water leaves no level between; what it took off tells the level, else
   * the tail of the pour does (g).
   */
  private double levelAtTare(Work work, double end) {
    for (Step step : steps) {
      if (!step.isObject() && step.from() > end && step.to() < work.after - SHORT_LEVEL) {
        double from = step.to() + AFTER_TARE;
        double to = Math.min(from + SHORT_LEVEL, work.after - AFTER_TARE);
        return track.line(from, to).level() - step.grams();
      }
    }
    return work.endFit.level() + drift * end;
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
