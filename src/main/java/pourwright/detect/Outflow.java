package pourwright.detect;

import java.util.List;
import java.util.Optional;

/** What runs out of the bed, from the scale under the server. */
final class Outflow {
  private static final double GRID = 0.1;

  /** Less than this is drips (g/s); common practice, no source. */
  private static final double DRIPPING = 0.25;

  /** Nothing runs back out of the server: what falls faster is a display that settles (g/s). */
  private static final double MOST_LOSS = -0.2;

  /** Stretches before the next pour or the lift that may be dry (s). */
  private static final double[] LAST_STRETCHES = {0.7, 0.5, 0.35};

  /** What ran out so shortly before the end of a pour came through a wet bed (s). */
  private static final double LAST_OF_POUR = 2;

  private static final double FLOW_SECONDS = 1;

  private static final double[] TAILS = {0.6, 1.2, 2.4};

  private final Track track;
  private final List<PourRefiner.Step> steps;
  private final double[] flow;
  private final LinearFit fit = new LinearFit(4);
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
    fit.clear();
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
      fit.add(f, track.mass(i) - base);
    }
    double squares = fit.solve();
    boolean breaks =
        fit.coefficient(1) > fit.coefficient(3) / tail && fit.coefficient(3) > MOST_LOSS;
    return breaks ? squares : Double.POSITIVE_INFINITY;
  }

  /** What had run out by {@code t} (g above the first reading). */
  double massAt(double t) {
    Track.Line line = track.line(t - 0.4, t + 0.4);
    double shown =
        line.readings() == 0
            ? track.mass(Math.min(track.size() - 1, track.indexAt(t)))
            : line.at(t);
    return shown - movedBy(t);
  }

  /** What had run out by the reading {@code i} as it is shown (g above the first reading). */
  double ranBy(int i) {
    return track.mass(i) - movedBy(track.time(i));
  }

  /** By how much the display had been moved otherwise (g). */
  private double movedBy(double t) {
    return steps.stream().filter(step -> step.to() <= t).mapToDouble(PourRefiner.Step::grams).sum();
  }

  /** How fast it runs out in the second before {@code t} (g/s). */
  double flowBefore(double t) {
    int k = (int) ((t - FLOW_SECONDS / 2) / GRID);
    return k < 0 || flow.length == 0 ? 0 : Math.max(0, flow[Math.min(k, flow.length - 1)]);
  }
}
