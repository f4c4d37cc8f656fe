package pourwright.detect;

import java.util.Arrays;
import java.util.List;

/** The levels a pour lies between: drips, tails, disturbances and drift kept out of them. */
final class RestLevel {
  /** A level is taken over so long (s), longer where the noise asks for it. */
  private static final double LEVEL_SECONDS = 5;

  private static final double LONG_LEVEL_SECONDS = 9;

  /** Standard error that a level should have (g). */
  private static final double LEVEL_ERROR = 0.02;

  /** A level must be seen so long after a drip to be trusted more than that before it (s). */
  private static final double AFTER_DRIP = 0.8;

  /** What is taken for a level where no more is seen of it (s). */
  private static final double LAST_SECONDS = 0.5;

  /** Water that begins about when readings come back may be placed a little before that (s). */
  private static final double AROUND_GAP = 1;

  /** A tail that rises slower than this is taken as level (g/s). */
  private static final double TAIL_FLOW = 0.1;

  /** More than drips bring after a pour (g): then it is the tail that rises. */
  private static final double LEAST_TAIL = 0.4;

  private static final double TAIL_ERROR = 0.06;

  private static final double LONGEST_TAIL = 12;

  /** A step in a level of so many squared standard deviations is a drip. */
  private static final double DRIP_GAIN = 30;

  private final Track track;
  private final List<PourRefiner.Step> steps;
  private final List<Findings.Gap> gaps;
  private final double drift;

  /**
   * @param drift of the weight at rest (g/s)
   */
  RestLevel(Track track, List<PourRefiner.Step> steps, List<Findings.Gap> gaps, double drift) {
    this.track = track;
    this.steps = steps;
    this.gaps = gaps;
    this.drift = drift;
  }

  /** Level just before {@code start}, after the last drip or disturbance before it (g). */
  double before(double start, double previousEnd, Kernel kernel) {
    double to = start - 0.02;
    double from = Math.max(to - levelSeconds(), previousEnd + 0.4 + 4 * kernel.lag());
    from = Math.max(from, lastBreak(from, to));
    from = Math.min(from, to - 3 * track.period());
    double[] level = level(from, to);
    if (level.length == 0 && previousEnd < track.time(0)) {
      // The recording begins with this water; its first reading is all there is of the level.
      return track.mass(0) - drift * (track.time(0) - start);
    }
    if (level.length == 0) {
      level = lastBeforeGap(previousEnd, start + AROUND_GAP);
    }
    int cut = step(level, true);
    return mean(level, cut, level.length) + drift * (start - 0);
  }

  /** Level just after {@code end}, before the first drip or disturbance after it (g). */
  double after(double end, double nextStart, double flow, Kernel kernel) {
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
    if (level.length == 0) {
      // readings stopped before all had come to rest: what they show when they are back
      double back = firstBack(end, nextStart);
      level = level(back, Math.min(nextStart - 0.25, back + levelSeconds()));
    }
    if (level.length == 0) {
      level = lastBeforeGap(end, nextStart + AROUND_GAP);
    }
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
    for (PourRefiner.Step step : steps) {
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

  /** The last readings before the first gap between two times; empty where none is. */
  private double[] lastBeforeGap(double from, double to) {
    for (Findings.Gap gap : gaps) {
      double stopped = track.seconds(gap.start());
      if (stopped > from && track.seconds(gap.end()) < to) {
        return level(Math.max(from, stopped - LAST_SECONDS), stopped);
      }
    }
    return new double[0];
  }

  /** Where readings begin again after the first gap between two times; the later where none is. */
  private double firstBack(double from, double to) {
    for (Findings.Gap gap : gaps) {
      double back = track.seconds(gap.end());
      if (back > from && back < to) {
        return back;
      }
    }
    return to;
  }

  private double firstBreak(double from, double to) {
    double at = to;
    for (PourRefiner.Step step : steps) {
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
    LeastSquares sums = new LeastSquares();
    for (int i = 0; i < level.length; i++) {
      sums.add(i, level[i] - level[0]);
    }
    return sums.slope() * (level.length - 1);
  }

  private static double mean(double[] values, int from, int to) {
    double sum = 0;
    for (int i = from; i < to; i++) {
      sum += values[i];
    }
    return to > from ? sum / (to - from) : Double.NaN;
  }
}
