package pourwright.detect;

import java.util.List;
import pourwright.units.Mass;

/** Measures what a tare took from the levels on both sides of it, not from two single readings. */
final class TareFit {
  private static final double LEVEL_SECONDS = 1.5;

  /** The display is itself again so long after a tare, and still itself so long before it (s). */
  private static final double MARGIN = 0.12;

  private static final int LEAST_READINGS = 5;

  /** More than this between the two measurements, and something else moved too (g). */
  private static final double MOST_OFF = 1.0;

  private TareFit() {}

  /** The same events, each tare with its best estimate where the weight rested around it. */
  static List<PourEvent> measured(List<PourEvent> announced, Track track) {
    return announced.stream()
        .map(event -> event instanceof PourEvent.Tared tared ? measured(tared, track) : event)
        .toList();
  }

  private static PourEvent measured(PourEvent.Tared tared, Track track) {
    double at = track.seconds(tared.at());
    Track.Line before = track.line(at - LEVEL_SECONDS, at - MARGIN);
    Track.Line after = track.line(at + MARGIN, at + LEVEL_SECONDS);
    double taken = before.at(at) - after.at(at);
    boolean isUsable =
        isStraight(before, track)
            && isStraight(after, track)
            && Math.abs(taken - tared.taken().grams())
                < MOST_OFF + 2 * track.resolution() + 4 * track.noise();
    return isUsable
        ? new PourEvent.Tared(tared.place(), tared.at(), tared.knownAt(), Mass.ofGrams(taken))
        : tared;
  }

  private static boolean isStraight(Track.Line line, Track track) {
    double usual = track.noise() * track.noise() * line.readings();
    return line.readings() >= LEAST_READINGS && line.squares() < 4 * usual;
  }
}
