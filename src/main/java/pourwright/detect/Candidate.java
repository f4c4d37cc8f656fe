package pourwright.detect;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import pourwright.units.SessionTime;

/**
 * A pour as announced, with roughly where it began and ended (s of the track).
 *
 * @param startSaid when its start was announced; empty when only hindsight saw it
 * @param endSaid when its end was announced; empty when it never was
 */
record Candidate(
    double start, double end, Optional<SessionTime> startSaid, Optional<SessionTime> endSaid) {

  Candidate withEnd(double seconds) {
    return new Candidate(start, seconds, startSaid, endSaid);
  }

  /** One pour with the next one, which began too soon to be another. */
  Candidate joined(Candidate next) {
    return new Candidate(start, next.end, startSaid, next.endSaid.or(() -> endSaid));
  }

  Candidate withEdges(double from, double to) {
    return new Candidate(from, Math.max(from, to), startSaid, endSaid);
  }

  /** The pours that were announced. */
  static List<Candidate> of(List<PourEvent> announced, Track track) {
    List<Candidate> found = new ArrayList<>();
    PourEvent.@Nullable PourStarted open = null;
    for (PourEvent event : announced) {
      if (event instanceof PourEvent.PourStarted started) {
        open = started;
      } else if (event instanceof PourEvent.PourEnded ended && open != null) {
        found.add(
            new Candidate(
                track.seconds(open.at()),
                track.seconds(ended.at()),
                Optional.of(open.knownAt()),
                Optional.of(ended.knownAt())));
        open = null;
      }
    }
    if (open != null) {
      found.add(
          new Candidate(
              track.seconds(open.at()),
              track.last(),
              Optional.of(open.knownAt()),
              Optional.empty()));
    }
    return found;
  }

  /** Those of them that began after all that was discarded. */
  static List<Candidate> brewed(List<PourEvent> announced, Track track) {
    double begin =
        announced.stream()
            .filter(PourEvent.Discarded.class::isInstance)
            .mapToDouble(event -> track.seconds(event.at()))
            .reduce(Double.NEGATIVE_INFINITY, Math::max);
    return of(announced, track).stream().filter(pour -> pour.start() > begin).toList();
  }
}
