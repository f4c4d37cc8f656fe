package pourwright.detect;

import java.util.ArrayList;
import java.util.List;

/**
 * The levels on which vessels were then set down, one of them the empty server. They are sought in
 * the weights themselves, because on a slow scale two vessels set down one soon after the other are
 * one long disturbance.
 */
final class SetDown {
  /** A vessel that is set down raises the weight by as much within so long (s, g). */
  private static final double RISE_SECONDS = 0.5;

  private static final double LEAST_RISE = 15;

  /** A level is taken over so long, the longest that is flat (s). */
  private static final double[] LENGTHS = {2.5, 1.5, 1.0, 0.7, 0.45, 0.3};

  /** The hand with the vessel is felt so long before (s). */
  private static final double JUST_BEFORE = 0.08;

  /** What still settles from the vessel before is followed so far back (s). */
  private static final double TAIL_SECONDS = 1.2;

  /** Time constants of what still settles, and the step from one to the next (s). */
  private static final double SHORTEST_TAIL = 0.08;

  private static final double LONGEST_TAIL = 1;
  private static final double NEXT_TAIL = 1.04;

  /**
   * A level and when it was left.
   *
   * @param at when the next vessel came (s)
   * @param grams level as it would be once settled (g)
   */
  record Level(double at, double grams) {}

  private SetDown() {}

  /** All of them before {@code end} (s), in order of time. */
  static List<Level> levels(Track track, double end) {
    List<Level> found = new ArrayList<>();
    double noise = Math.max(track.noise(), track.resolution());
    int from = 0;
    int ahead = 0;
    int i = 0;
    while (i < track.size() && track.time(i) < end - RISE_SECONDS) {
      while (ahead + 1 < track.size() && track.time(ahead + 1) <= track.time(i) + RISE_SECONDS) {
        ahead++;
      }
      if (track.mass(ahead) - track.mass(i) < LEAST_RISE) {
        i++;
        continue;
      }
      int left = i;
      while (left < ahead && track.mass(left + 1) - track.mass(i) < 4 * noise + 0.3) {
        left++;
      }
      int rested = Math.max(from, track.indexAt(track.time(left) - JUST_BEFORE) - 1);
      double level = settled(track, from, rested);
      // A level that is still being neared looks like one more vessel until the next one is felt.
      boolean isSame =
          !found.isEmpty() && track.time(left) < found.get(found.size() - 1).at() + RISE_SECONDS;
      if (!Double.isNaN(level) && !isSame) {
        found.add(new Level(track.time(left), level));
      }
      i = top(track, left);
      from = i;
      ahead = Math.max(ahead, i);
    }
    return found;
  }

  /** The first reading from which the weight rises no further. */
  private static int top(Track track, int from) {
    int i = from;
    int ahead = from;
    while (i < track.size()) {
      while (ahead + 1 < track.size()
          && track.time(ahead + 1) <= track.time(i) + RISE_SECONDS / 2) {
        ahead++;
      }
      if (i > from && track.mass(ahead) - track.mass(i) < LEAST_RISE / 2) {
        return i;
      }
      i++;
    }
    return i;
  }

  /** The level to which the readings tend up to {@code last} (g); NaN where they do not rest. */
  private static double settled(Track track, int first, int last) {
    double end = track.time(last);
    for (double length : LENGTHS) {
      int from = Math.max(first, track.indexAt(end - length));
      Stretch stretch = Stretch.of(track, from, end, end, length);
      if (stretch.isFlat()) {
        return stretch.level();
      }
    }
    double tended = asymptote(track, Math.max(first, track.indexAt(end - TAIL_SECONDS)), last);
    return Double.isNaN(tended)
        ? mean(track, Math.max(first, track.indexAt(end - 1)), last)
        : tended;
  }

  /** Of a display that holds and jumps or still swings a little (g); NaN where it moves more. */
  private static double mean(Track track, int first, int last) {
    double sum = 0;
    double low = Double.POSITIVE_INFINITY;
    double high = Double.NEGATIVE_INFINITY;
    for (int i = first; i <= last; i++) {
      double grams = track.mass(i) - track.mass(last);
      sum += grams;
      low = Math.min(low, grams);
      high = Math.max(high, grams);
    }
    boolean isRest = high - low < Math.max(Judgement.LEAST_OBJECT, 3 * track.resolution());
    return isRest ? track.mass(last) + sum / (last - first + 1) : Double.NaN;
  }

  /** Of the exponential that fits best. */
  private static double asymptote(Track track, int first, int last) {
    double best = Double.POSITIVE_INFINITY;
    double level = Double.NaN;
    if (last - first < 4) {
      return level;
    }
    for (double tail = SHORTEST_TAIL; tail < LONGEST_TAIL; tail *= NEXT_TAIL) {
      LeastSquares sums = new LeastSquares();
      for (int i = first; i <= last; i++) {
        sums.add(
            Math.exp((track.time(first) - track.time(i)) / tail), track.mass(i) - track.mass(last));
      }
      double squares = sums.residual();
      if (squares < best) {
        best = squares;
        level = track.mass(last) + sums.intercept();
      }
    }
    double allowed = track.noise() * track.noise() * (last - first + 1);
    return best < 9 * allowed ? level : Double.NaN;
  }
}
