package pourwright.detect;

import java.util.ArrayList;
import java.util.Arrays;
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

  /** So long without flow, and what flows later is another pour (s). */
  private static final double QUIET_SECONDS = 1.6;

  /** A hand is not as even as a straight line: this part of the flow is scatter too (s). */
  private static final double HAND_SECONDS = 0.01;

  /** Its unevenness lasts about so long, so faster readings of it are no news (s). */
  private static final double HAND_MEMORY = 0.12;

  /** Lag of a kitchen scale, give or take a factor of two and a half (s); prior. */
  private static final double USUAL_LAG = 0.15;

  private static final double LAG_LOG_SPREAD = 0.9;

  private static final double USUAL_PUSH = 0.1;

  private static final double EDGE_INSIDE = 0.8;
  private static final double EDGE_BEFORE = 2.5;
  private static final double EDGE_AFTER = 0.9;

  /** Room for a lag that is not known yet (s). */
  private static final double MUCH_LAG = 0.35;

  /** A level is taken over so long (s), longer where the noise asks for it. */
  private static final double LEVEL_SECONDS = 5;

  private static final double LONG_LEVEL_SECONDS = 9;

  /** Standard error that a level should have (g). */
  private static final double LEVEL_ERROR = 0.02;

  /** What brought less is no pour (g). */
  /** Evaporation with zero drift on top (g/s), and zero drift alone. */
  private static final double MOST_LOSS = -0.12;

  private static final double MOST_GAIN = 0.005;

  /** A level must be seen so long after a drip to be trusted more than that before it (s). */
  private static final double AFTER_DRIP = 0.8;

  private static final double SHORTEST_POUR = 1.2;
  private static final double LEAST_WATER = 2.5;

  /** A tail that rises slower than this is taken as level (g/s). */
  private static final double TAIL_FLOW = 0.1;

  /** More than drips bring after a pour (g): then it is the tail that rises. */
  private static final double LEAST_TAIL = 0.4;

  private static final double TAIL_ERROR = 0.06;
  private static final double LONGEST_TAIL = 12;

  /** Ground coffee falls in within this time, and is no more than this. */
  private static final double TIPPED_SECONDS = 1.8;

  private static final double TIPPED_GRAMS = 30;

  /** A step in a level of so many squared standard deviations is a drip. */
  private static final double DRIP_GAIN = 30;

  private final Track track;
  private final Optional<Kernel> knownKernel;
  private final List<Step> steps;
  private final List<Findings.Gap> gaps;
  private final double liftAt;

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
      this.startFit = new EdgeFit(true, new double[0], new double[0], 1, 1);
      this.endFit = startFit;
      this.start = new EdgeFit.Edge(candidate.start(), 0.3, 1, 0);
      this.end = new EdgeFit.Edge(candidate.end(), 0.3, 1, 0);
    }
  }

  List<Findings.Pour> refine(List<Candidate> announced) {
    List<Candidate> candidates = extended(announced);
    drift = restDrift(candidates);
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
    List<Findings.Pour> pours = new ArrayList<>();
    for (Work work : works) {
      pour(work, pours.size() + 1).ifPresent(pours::add);
    }
    return pours;
  }

  /** How the scale smooths, as known or found. */
  Kernel kernel() {
    return kernel;
  }

  /**
   * Where each candidate really stops flowing, seen from both sides; joins what belongs together.
   */
  private List<Candidate> extended(List<Candidate> announced) {
    List<Candidate> found = new ArrayList<>();
    for (int i = 0; i < announced.size(); i++) {
      Candidate candidate = announced.get(i);
      double limit =
          i + 1 < announced.size()
              ? announced.get(i + 1).start() - 0.5
              : Math.min(liftAt - 0.3, track.last());
      double flow = usualFlow(candidate.start(), Math.max(candidate.end(), candidate.start() + 1));
      double end = lastFlow(candidate, flow, limit);
      Candidate whole = candidate.withEnd(Math.max(end, candidate.start() + 0.3));
      Candidate last = found.isEmpty() ? whole : found.get(found.size() - 1);
      if (!found.isEmpty() && whole.start() - last.end() < Judgement.SAME_POUR_SECONDS) {
        found.set(found.size() - 1, broughtWater(last, whole) ? last.joined(whole) : whole);
      } else {
        found.add(whole);
      }
    }
    return found;
  }

  /** Whether the weight is higher at the begin of the later than at that of the earlier. */
  private boolean broughtWater(Candidate earlier, Candidate later) {
    Track.Line before = track.line(earlier.start() - 0.6, earlier.start() - 0.1);
    Track.Line after = track.line(later.start() - 0.5, later.start());
    return before.readings() == 0
        || after.readings() == 0
        || after.level() - before.level() > LEAST_WATER;
  }

  private double usualFlow(double from, double to) {
    List<Double> slopes = new ArrayList<>();
    for (double t = from; t < to; t += 0.25) {
      Track.Line line = track.line(t - 0.1, t + 0.5);
      if (line.readings() >= 3) {
        slopes.add(line.slope());
      }
    }
    slopes.sort(Double::compare);
    return slopes.isEmpty() ? 4 : Math.max(0.8, slopes.get(slopes.size() * 6 / 10));
  }

  private double lastFlow(Candidate candidate, double flow, double limit) {
    double reach = Math.max(0.25, 1.5 * track.period());
    double wanted = 0.07 * flow;
    double noisy =
        Math.cbrt(12 * track.noise() * track.noise() * track.period() / (wanted * wanted)) / 2;
    double half = Math.min(1.0, Math.max(reach, noisy));
    double last = candidate.start();
    double t = candidate.start();
    while (t < limit) {
      Track.Line line = track.line(t - half, t + half);
      if (line.readings() >= 3 && line.slope() > 0.35 * flow) {
        last = t;
      } else if (line.readings() >= 3 && t - last > QUIET_SECONDS && t > candidate.end() - 1) {
        break;
      }
      t += 0.1;
    }
    return last;
  }

  /** Slope of the rests between the pours (g/s): evaporation and zero drift. */
  private double restDrift(List<Candidate> candidates) {
    List<double[]> stretches = new ArrayList<>();
    for (int i = 0; i < candidates.size(); i++) {
      double from = candidates.get(i).end() + 2.5;
      double to =
          (i + 1 < candidates.size()
                  ? candidates.get(i + 1).start()
                  : Math.min(liftAt, track.last()))
              - 0.8;
      if (to - from > 2) {
        stretches.addAll(undisturbed(from, to));
      }
    }
    double straightest = Double.POSITIVE_INFINITY;
    for (double[] stretch : stretches) {
      Track.Line line = track.line(stretch[0], stretch[1]);
      if (stretch[1] - stretch[0] > 2 && line.readings() >= 6) {
        straightest = Math.min(straightest, line.squares() / line.readings());
      }
    }
    double limit = Math.max(6 * track.noise() * track.noise(), 2.5 * straightest);
    double sum = 0;
    double weight = 0;
    for (double[] stretch : stretches) {
      double length = stretch[1] - stretch[0];
      Track.Line line = track.line(stretch[0], stretch[1]);
      if (length > 2 && line.readings() >= 6 && line.squares() <= limit * line.readings()) {
        double w = length * length * length;
        sum += w * line.slope();
        weight += w;
      }
    }
    return weight == 0 ? 0 : Math.max(MOST_LOSS, Math.min(MOST_GAIN, sum / weight));
  }

  /** The parts of a stretch without masked readings. */
  private List<double[]> undisturbed(double from, double to) {
    List<double[]> parts = new ArrayList<>();
    double start = Double.NaN;
    double last = Double.NaN;
    for (int i = track.indexAt(from); i < track.size() && track.time(i) <= to; i++) {
      if (track.isMasked(i)) {
        if (!Double.isNaN(start)) {
          parts.add(new double[] {start, last});
        }
        start = Double.NaN;
      } else {
        if (Double.isNaN(start)) {
          start = track.time(i);
        }
        last = track.time(i);
      }
    }
    if (!Double.isNaN(start)) {
      parts.add(new double[] {start, last});
    }
    return parts;
  }

  private boolean prepare(Work work) {
    Candidate c = work.candidate;
    double length = c.end() - c.start();
    double flow = usualFlow(c.start(), c.end());
    double inside = Math.min(EDGE_INSIDE, Math.max(0.5, length * 0.6));
    double lag = knownKernel.map(Kernel::lag).orElse(MUCH_LAG);
    work.startFit =
        edge(
            true,
            Math.max(c.start() - EDGE_BEFORE, work.before + 0.8),
            c.start() + 0.3 + inside + lag,
            flow);
    work.isRunning = c.end() > track.last() - 0.35;
    work.endFit =
        edge(
            false,
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
   * The unmasked readings of an edge; a gap in it stretches the window to the readings after it.
   */
  private EdgeFit edge(boolean isStart, double from, double to, double flow) {
    double low = from;
    double high = to;
    for (Findings.Gap gap : gaps) {
      double gapStart = track.seconds(gap.start());
      double gapEnd = track.seconds(gap.end());
      if (gapStart < high && gapEnd > low) {
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
    int k = 0;
    for (int i = first; i < track.size() && track.time(i) <= high; i++) {
      if (!track.isMasked(i)) {
        t[k] = track.time(i);
        m[k] = track.mass(i) - drift * t[k] - stepsBefore(t[k], low);
        k++;
      }
    }
    double uneven = HAND_SECONDS * flow * Math.sqrt(Math.max(1, HAND_MEMORY / track.period()));
    return new EdgeFit(isStart, t, m, Math.hypot(track.noise(), uneven), flow);
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
    if (knownKernel.isEmpty()) {
      kernel = kernelOfEdges(works);
      works.forEach(work -> fit(work, kernel, USUAL_PUSH));
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

  /** Without a step to measure it by, the smoothing that makes the pours' edges likeliest. */
  private Kernel kernelOfEdges(List<Work> works) {
    Kernel found = kernel;
    double best = Double.POSITIVE_INFINITY;
    for (Kernel tried : kernels()) {
      double unusual = Math.log(tried.lag() / USUAL_LAG) / LAG_LOG_SPREAD;
      double cost = unusual * unusual;
      for (Work work : works) {
        if (isLong(work)) {
          fit(work, tried, USUAL_PUSH);
          cost += work.start.cost() + (hasEnd(work) ? work.end.cost() : 0);
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

  private Optional<Findings.Pour> pour(Work work, int index) {
    double start = work.start.moment();
    double end = work.isRunning ? track.last() : Math.max(start + 0.1, work.end.moment());
    double low = levelBefore(start, work.before);
    double high =
        work.isRunning
            ? track.mass(track.size() - 1) + kernel.lag() * work.start.flow()
            : levelAfter(end, work.after, work.start.flow());
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

  /** Level just before {@code start}, after the last drip or disturbance before it (g). */
  private double levelBefore(double start, double previousEnd) {
    double to = start - 0.02;
    double from = Math.max(to - levelSeconds(), previousEnd + 0.4 + 4 * kernel.lag());
    from = Math.max(from, lastBreak(from, to));
    from = Math.min(from, to - 3 * track.period());
    double[] level = level(from, to);
    if (level.length == 0 && previousEnd < track.time(0)) {
      // The recording begins with this water; its first reading is all there is of the level.
      return track.mass(0) - drift * (track.time(0) - start);
    }
    int cut = step(level, true);
    return mean(level, cut, level.length) + drift * (start - 0);
  }

  /** Level just after {@code end}, before the first drip or disturbance after it (g). */
  private double levelAfter(double end, double nextStart, double flow) {
    double lag = kernel.lag();
    double settle = 0.1 + lag * Math.max(1, Math.log(Math.max(1, flow * lag / 0.02)));
    double from = settled(end + settle, firstBreak(end, nextStart));
    double to = Math.min(nextStart - 0.25, from + levelSeconds());
    to = Math.min(to, firstBreak(from, to));
    if (to < from + 3 * track.period()) {
      from = Math.min(from, Math.max(end, to - 0.3));
      to = Math.max(to, from + 3 * track.period());
    }
    double[] level = level(from, to);
    boolean isTail = isTail(level);
    if (isTail) {
      level =
          level(
              from,
              Math.max(
                  to, firstBreak(from, Math.min(nextStart - 0.25, from + 2 * levelSeconds()))));
    }
    int begin = isTail ? 2 * level.length / 3 : 0;
    int cut = isTail ? level.length : step(level, false);
    return mean(level, begin, cut) + drift * (end - 0);
  }

  /** A long tail is given time until it hardly rises any more. */
  private double settled(double from, double limit) {
    double noise = track.noise();
    double variance = 12 * noise * noise * track.period();
    double window = Math.cbrt(variance / (TAIL_ERROR * TAIL_ERROR));
    window = Math.max(0.8, Math.min(3, window));
    double error = Math.sqrt(variance / (window * window * window));
    double t = from;
    while (t < Math.min(limit - window - 0.5, from + LONGEST_TAIL)
        && track.line(t, t + window).slope() - drift > TAIL_FLOW + error) {
      t += 0.2;
    }
    return t;
  }

  private double levelSeconds() {
    double wanted = track.noise() * track.noise() * track.period() / (LEVEL_ERROR * LEVEL_ERROR);
    return Math.max(LEVEL_SECONDS, Math.min(LONG_LEVEL_SECONDS, wanted));
  }

  private double lastBreak(double from, double to) {
    double at = from;
    for (Step step : steps) {
      if (step.to() > at && step.to() < to) {
        at = step.to();
      }
    }
    for (Findings.Gap gap : gaps) {
      double gapEnd = track.seconds(gap.end());
      if (gapEnd > at && gapEnd < to - 0.3) {
        at = gapEnd;
      }
    }
    return at;
  }

  private double firstBreak(double from, double to) {
    double at = to;
    for (Step step : steps) {
      if (step.from() > from - 0.5 && step.from() < at) {
        at = step.from();
      }
    }
    return at;
  }

  /** Unmasked readings of a stretch, drift removed (g). */
  private double[] level(double from, double to) {
    double[] kept = new double[Math.max(0, track.indexAt(to) - track.indexAt(from)) + 1];
    int n = 0;
    for (int i = track.indexAt(from); i < track.size() && track.time(i) <= to; i++) {
      if (!track.isMasked(i) && n < kept.length) {
        kept[n++] = track.mass(i) - drift * track.time(i);
      }
    }
    return Arrays.copyOf(kept, n);
  }

  /**
   * Where the level steps up by a drip: the best cut, if it explains enough.
   *
   * @return number of readings before the cut; for no cut 0 when the later part is wanted, else all
   */
  private int step(double[] level, boolean wantLater) {
    int from = 0;
    int to = level.length;
    for (int round = 0; round < 3; round++) {
      int cut = bestCut(level, from, to, wantLater);
      if (cut < 0) {
        break;
      }
      if (wantLater) {
        from = cut;
      } else {
        to = cut;
      }
    }
    return wantLater ? from : to;
  }

  private int bestCut(double[] level, int from, int to, boolean wantLater) {
    int least = wantLater ? Math.max(3, (int) (AFTER_DRIP / track.period())) : 3;
    double total = 0;
    for (int i = from; i < to; i++) {
      total += level[i];
    }
    double sum = 0;
    double best = DRIP_GAIN * track.noise() * track.noise();
    int cut = -1;
    for (int i = from; i < to - least; i++) {
      sum += level[i];
      int n = i + 1 - from;
      int rest = to - from - n;
      if (n < 3) {
        continue;
      }
      double rise = (total - sum) / rest - sum / n;
      double gain = rise * rise * n * rest / (n + rest);
      if (rise > 0 && gain > best) {
        best = gain;
        cut = i + 1;
      }
    }
    return cut;
  }

  /** A tail rises by more than drips do, and ever slower. */
  private static boolean isTail(double[] level) {
    int half = level.length / 2;
    return half > 3
        && rise(level) > LEAST_TAIL
        && rise(Arrays.copyOfRange(level, 0, half))
            > 1.2 * Math.max(0, rise(Arrays.copyOfRange(level, half, level.length)));
  }

  /** By how much a straight line through the level rises from its begin to its end (g). */
  private static double rise(double[] level) {
    int n = level.length;
    double middle = (n - 1) / 2.0;
    double mean = mean(level, 0, n);
    double sxx = 0;
    double sxy = 0;
    for (int i = 0; i < n; i++) {
      sxx += (i - middle) * (i - middle);
      sxy += (i - middle) * (level[i] - mean);
    }
    return sxx > 0 ? sxy / sxx * (n - 1) : 0;
  }

  private static double mean(double[] values, int from, int to) {
    double sum = 0;
    for (int i = from; i < to; i++) {
      sum += values[i];
    }
    return to > from ? sum / (to - from) : Double.NaN;
  }
}
