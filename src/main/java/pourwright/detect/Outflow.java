package pourwright.detect;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** What runs out of the bed, from the scale under the server. */
final class Outflow {
  private static final double GRID = 0.1;

  /** Less than this is drips (g/s); common practice, no source. */
  private static final double DRIPPING = 0.25;

  /** A new pour raises the outflow by at least this (g/s); own trials. */
  private static final double LEAST_SURGE = 0.7;

  /** Nothing runs back out of the server: what falls faster is a display that settles (g/s). */
  private static final double MOST_LOSS = -0.2;

  /** More than a bed lets through (g/s): something was put down. */
  private static final double MOST_OUTFLOW = 15;

  /** Stretches before the next pour or the lift that may be dry (s). */
  private static final double[] LAST_STRETCHES = {0.7, 0.5, 0.35};

  /** What ran out so shortly before the end of a pour came through a wet bed (s). */
  private static final double LAST_OF_POUR = 2;

  private static final double[] TAILS = {0.6, 1.2, 2.4};

  private final Track track;
  private final List<PourRefiner.Step> steps;
  private final double[] flow;
  private final double blur;

  /**
   * @param steps by which the display moved without anything running out
   */
  Outflow(Track track, List<PourRefiner.Step> steps) {
    this.track = track;
    this.steps = List.copyOf(steps);
    double half = 0.5;
    double noise = track.noise();
    double error = noise * Math.sqrt(12 * track.period() / (8 * half * half * half));
    while (error > 0.05 && half < 1.2) {
      half += 0.1;
      error = noise * Math.sqrt(12 * track.period() / (8 * half * half * half));
    }
    this.blur = error;
    flow = new double[Math.max(0, (int) (track.last() / GRID))];
    for (int k = 0; k < flow.length; k++) {
      Track.Line line = track.line(k * GRID - half, k * GRID + half);
      boolean isKnown = line.readings() >= 3 && !isMoved(k * GRID - half, k * GRID + half);
      flow[k] = isKnown ? Math.max(MOST_LOSS, line.slope()) : k > 0 ? flow[k - 1] : 0;
    }
  }

  private boolean isMoved(double from, double to) {
    return steps.stream().anyMatch(step -> step.from() < to && step.to() > from);
  }

  /** A pour as the outflow tells it (s). */
  record Surge(double start, double end) {}

  /**
   * Each swing of the outflow from a valley up to a peak: it rises when water is poured and falls
   * from the moment the pour stops.
   */
  List<Surge> listSurges() {
    double least = Math.max(LEAST_SURGE, 6 * blur);
    List<Surge> surges = new ArrayList<>();
    int valley = 0;
    int peak = 0;
    boolean rising = false;
    for (int k = 0; k < flow.length; k++) {
      if (!rising) {
        if (flow[k] < flow[valley]) {
          valley = k;
        }
        if (flow[k] - flow[valley] > least) {
          rising = true;
          peak = k;
        }
      } else {
        if (flow[k] > flow[peak]) {
          peak = k;
        }
        if (flow[peak] - flow[k] > Math.max(least / 2, 0.15 * flow[peak])) {
          if (flow[peak] < MOST_OUTFLOW) {
            surges.add(new Surge(foot(valley, peak) * GRID, peak * GRID));
          }
          rising = false;
          valley = k;
        }
      }
    }
    if (rising) {
      surges.add(new Surge(foot(valley, peak) * GRID, peak * GRID));
    }
    return surges;
  }

  /** Last moment before the peak at which the outflow had hardly left the valley. */
  private int foot(int valley, int peak) {
    double low = flow[valley] + 0.12 * (flow[peak] - flow[valley]);
    int k = peak;
    while (k > valley && flow[k] > low) {
      k--;
    }
    return k;
  }

  /**
   * When the bed ran dry between two times: the outflow breaks off into a tail of drips.
   *
   * @param isHeld whether the grounds can hold all water so far, so that none has to run out
   * @return nothing when it still ran at {@code to}, or has not begun to
   */
  Optional<Double> findDrained(double from, double to, boolean isHeld) {
    double limit = Math.max(DRIPPING, 3 * blur);
    int low = Math.max(0, (int) Math.ceil(from / GRID));
    int high = Math.min(flow.length, (int) (to / GRID));
    int quiet = 0;
    boolean mayBeDry = isHeld || ranBefore(low, limit);
    boolean hasRun = false;
    for (int k = low; k < high; k++) {
      hasRun |= flow[k] > 2 * limit;
      quiet = flow[k] < limit ? quiet + 1 : 0;
      if (quiet * GRID > 0.5 && (hasRun || mayBeDry)) {
        double rough = (k - quiet) * GRID;
        return Optional.of(hasRun ? kink(rough, from, to) : from);
      }
    }
    return hasRun ? drainedJustBefore(from, to, limit) : Optional.empty();
  }

  /** Whether it ran while the water was poured: dry grounds let nothing through at first. */
  private boolean ranBefore(int from, double limit) {
    for (int k = Math.max(0, from - (int) (LAST_OF_POUR / GRID)); k < from; k++) {
      if (flow[k] > 2 * limit) {
        return true;
      }
    }
    return false;
  }

  /** A bed that ran dry in the last half second leaves only a short stretch without flow. */
  private Optional<Double> drainedJustBefore(double from, double to, double limit) {
    for (double reach : LAST_STRETCHES) {
      Track.Line last = track.line(to - reach, to);
      double error = track.noise() * Math.sqrt(12 * track.period() / (reach * reach * reach));
      if (last.readings() >= 4 && error < limit && last.slope() < limit) {
        return Optional.of(kink(to - reach, from, to));
      }
    }
    return Optional.empty();
  }

  /** The break between a bent line before and an exponential tail after, by least squares. */
  private double kink(double rough, double from, double to) {
    double best = Double.POSITIVE_INFINITY;
    double at = rough;
    double low = Math.max(from + 0.3, rough - 4.5);
    for (double tail : TAILS) {
      for (double k = low; k <= Math.min(rough + 0.8, to); k += 0.05) {
        double squares = squares(k, tail, Math.max(from, rough - 8), Math.min(to, rough + 3));
        if (squares < best) {
          best = squares;
          at = k;
        }
      }
    }
    return at;
  }

  private double squares(double at, double tail, double from, double to) {
    double[][] a = new double[4][5];
    double syy = 0;
    int first = track.indexAt(from);
    double base = first < track.size() ? track.mass(first) : 0;
    double[] f = new double[4];
    for (int i = first; i < track.size() && track.time(i) <= to; i++) {
      if (track.isMasked(i)) {
        continue;
      }
      double x = track.time(i) - at;
      f[0] = 1;
      f[1] = Math.min(0, x);
      f[2] = f[1] * f[1] / 2;
      f[3] = x > 0 ? -Math.expm1(-x / tail) : 0;
      double y = track.mass(i) - base;
      for (int r = 0; r < 4; r++) {
        for (int c = 0; c < 4; c++) {
          a[r][c] += f[r] * f[c];
        }
        a[r][4] += f[r] * y;
      }
      syy += y * y;
    }
    double[] right = {a[0][4], a[1][4], a[2][4], a[3][4]};
    for (int r = 0; r < 4; r++) {
      a[r][r] += 1e-9;
    }
    for (int p = 0; p < 4; p++) {
      for (int r = p + 1; r < 4; r++) {
        double factor = a[r][p] / a[p][p];
        for (int c = p; c < 5; c++) {
          a[r][c] -= factor * a[p][c];
        }
      }
    }
    double[] x = new double[4];
    for (int r = 3; r >= 0; r--) {
      double sum = a[r][4];
      for (int c = r + 1; c < 4; c++) {
        sum -= a[r][c] * x[c];
      }
      x[r] = sum / a[r][r];
    }
    boolean breaks = x[1] > x[3] / tail && x[3] > -0.2;
    double fit = syy;
    for (int r = 0; r < 4; r++) {
      fit -= x[r] * right[r];
    }
    return breaks ? fit : Double.POSITIVE_INFINITY;
  }

  /** What had run out by {@code t} (g above the first reading). */
  double massAt(double t) {
    Track.Line line = track.line(t - 0.4, t + 0.4);
    double shown =
        line.readings() == 0
            ? track.mass(Math.min(track.size() - 1, track.indexAt(t)))
            : line.at(t);
    return shown
        - steps.stream().filter(step -> step.to() <= t).mapToDouble(PourRefiner.Step::grams).sum();
  }
}
