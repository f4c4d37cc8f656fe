package pourwright.detect;

import java.util.OptionalDouble;

/**
 * How far a scale runs behind, learned from the vessels that are put on it while it is watched.
 *
 * <p>Between two steady levels the area that the display leaves above itself, over the height of
 * the step, is the mean delay whatever the shape of the scale's smoothing; half of the time that
 * the hand took comes off.
 */
final class LagEstimate {
  /** A lower step is not measured well enough (g). */
  private static final double LEAST_STEP = 15;

  /** A hand puts something down within about this (s); prior, as in {@link StepFit}. */
  private static final double HAND_SECONDS = 0.09;

  /** Slower scales are not for pouring (s). */
  private static final double LONGEST = 1.2;

  /** A step that overshoots by more of its height was no clean one. */
  private static final double MOST_OVERSHOOT = 0.3;

  private static final int KEPT = 5;

  private final double[] kept = new double[KEPT];
  private int count;

  /**
   * Looks at a step that has settled.
   *
   * @param from when the weight began to leave its level (s)
   * @param settled since when it is steady again (s)
   */
  void see(Signal signal, double from, double settled) {
    double before = signal.level(from - 1, from);
    double after = signal.level(settled, signal.newest());
    double height = after - before;
    if (!(Math.abs(height) >= LEAST_STEP) || signal.zeroedAt() >= from) {
      return;
    }
    double onset = Double.NaN;
    double area = 0;
    double highest = 0;
    double least = Math.max(0.02, 5 * signal.noise() / Math.abs(height));
    for (int back = signal.binsSince(from) - 1; back >= 0; back--) {
      double share = (signal.mass(back) - before) / height;
      double dt = back + 1 < signal.size() ? signal.time(back) - signal.time(back + 1) : 0;
      if (Double.isNaN(onset)) {
        if (share > least) {
          onset = signal.time(back) - dt / 2;
          area = (1 - share) * dt / 2 + dt / 2;
        }
        continue;
      }
      double earlier = (signal.mass(back + 1) - before) / height;
      area += (1 - (share + earlier) / 2) * dt;
      highest = Math.max(highest, share);
    }
    double lag = area - HAND_SECONDS / 2;
    if (Double.isNaN(onset) || highest > 1 + MOST_OVERSHOOT || lag > LONGEST) {
      return;
    }
    kept[count % KEPT] = Math.max(0, lag);
    count++;
  }

  /** Mean of the newest few (s); empty before the first. */
  OptionalDouble seconds() {
    int known = Math.min(count, KEPT);
    double sum = 0;
    for (int i = 0; i < known; i++) {
      sum += kept[i];
    }
    return known == 0 ? OptionalDouble.empty() : OptionalDouble.of(sum / known);
  }
}
