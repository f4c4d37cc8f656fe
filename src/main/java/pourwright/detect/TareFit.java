package pourwright.detect;

import java.util.List;
import java.util.Optional;
import pourwright.units.Mass;

/**
 * Measures what a tare took from the levels at rest on both sides of it, not from two single
 * readings: the finger on the button pushes the weight up just before it is forgotten.
 */
final class TareFit {
  /** A level is taken over so long, the longest that is straight (s). */
  private static final double[] LENGTHS = {1.5, 1.0, 0.7, 0.45, 0.3, 0.2};

  /** The display is itself again so long after a tare, and still itself so long before it (s). */
  private static final double MARGIN = 0.12;

  /** A press lasts no longer; what rested earlier is no level of the tare (s). */
  private static final double LONGEST_PRESS = 0.9;

  /** Where water flows, shorter stretches tell too little (s). */
  private static final double LEAST_FLOW_SECONDS = 0.4;

  private static final double STEP_SECONDS = 0.05;

  /** More than this between the two measurements, and something else moved too (g). */
  private static final double MOST_OFF = 1.0;

  private TareFit() {}

  /** The same events, each tare with its best estimate where the weight rested around it. */
  static List<PourEvent> measured(List<PourEvent> announced, Track track) {
    return announced.stream()
        .map(
            event ->
                event instanceof PourEvent.Tared tared ? measured(tared, track, announced) : event)
        .toList();
  }

  private static PourEvent measured(PourEvent.Tared tared, Track track, List<PourEvent> announced) {
    double at = track.seconds(tared.at());
    Optional<Double> before = level(track, at, -1);
    Optional<Double> after = level(track, at, 1);
    if (before.isEmpty() || after.isEmpty()) {
      return tared;
    }
    double taken = before.get() - after.get();
    double off = Math.abs(taken - tared.taken().grams());
    boolean isUsable =
        off < MOST_OFF + 2 * track.resolution() + 4 * track.noise()
            || wasPushed(announced, track, at);
    return isUsable
        ? new PourEvent.Tared(tared.place(), tared.at(), tared.knownAt(), Mass.ofGrams(taken))
        : tared;
  }

  /** Whether the weight was off just before the tare. */
  private static boolean wasPushed(List<PourEvent> announced, Track track, double at) {
    return announced.stream()
        .anyMatch(
            event ->
                event instanceof PourEvent.Disturbed moved
                    && track.seconds(moved.at()) < at
                    && track.seconds(moved.at()) > at - LONGEST_PRESS);
  }

  /**
   * The level next to a tare as it would be at the tare (g): where the weight rested last before it
   * or first after it; where it never rested, as the straight line of the flow says.
   *
   * @param side -1 before the tare, 1 after it
   */
  private static Optional<Double> level(Track track, double at, int side) {
    for (boolean isFlat : new boolean[] {true, false}) {
      for (double off = MARGIN; off <= (isFlat ? LONGEST_PRESS : MARGIN); off += STEP_SECONDS) {
        for (double length : LENGTHS) {
          double near = at + side * off;
          double far = near + side * length;
          double from = Math.min(near, far);
          double to = Math.max(near, far);
          Stretch stretch = Stretch.of(track, track.indexAt(from), to, at, to - from);
          if (isFlat && stretch.isFlat()) {
            return Optional.of(stretch.level());
          }
          if (!isFlat && stretch.isStraight() && length > LEAST_FLOW_SECONDS) {
            return Optional.of(stretch.atZero());
          }
        }
      }
    }
    return Optional.empty();
  }
}
