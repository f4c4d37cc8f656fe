package pourwright.detect;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import pourwright.detect.PourEvent.Discarded;
import pourwright.detect.PourEvent.PourEnded;
import pourwright.detect.PourEvent.PourStarted;
import pourwright.units.Flow;
import pourwright.units.Mass;

/**
 * Pours inferred from a finished recording of the server alone: where the outflow bends upward
 * water was poured on, where it bends down again no more was.
 */
final class OutflowPours {
  private final Track track;
  private final Outflow outflow;
  private final double until;
  private final BendFit bends;

  /**
   * @param until when the server was taken away, or the recording ended (s)
   */
  OutflowPours(Track track, Outflow outflow, double until) {
    this.track = track;
    this.outflow = outflow;
    this.until = until;
    this.bends = new BendFit(track, outflow);
  }

  /**
   * A pour, times in s of the track.
   *
   * @param end when the server was taken away, or the recording ended, where it was still poured
   *     then
   */
  record Span(PourStarted started, Optional<PourEnded> ended, double start, double end) {
    Span withEdges(double newStart, double newEnd) {
      return new Span(started, ended, newStart, Math.max(newStart, newEnd));
    }
  }

  /** The pours that were announced, their edges fitted from both sides. */
  List<Span> find(List<PourEvent> announced) {
    List<Span> rough = announced(announced);
    List<Span> found = new ArrayList<>();
    for (int i = 0; i < rough.size(); i++) {
      Span span = rough.get(i);
      double before = i == 0 ? 0 : found.get(i - 1).end();
      double next = i + 1 < rough.size() ? rough.get(i + 1).start() : until;
      double start = bends.find(span.start(), before, span.end(), true);
      double end = span.ended().isEmpty() ? span.end() : bends.find(span.end(), start, next, false);
      found.add(span.withEdges(start, end));
    }
    return found;
  }

  private List<Span> announced(List<PourEvent> events) {
    List<Span> spans = new ArrayList<>();
    for (PourEvent event : events) {
      if (event instanceof Discarded) {
        spans.clear();
      } else if (event instanceof PourStarted started) {
        double end = until;
        spans.add(new Span(started, Optional.empty(), track.seconds(started.at()), end));
      } else if (event instanceof PourEnded ended && !spans.isEmpty()) {
        Span open = spans.remove(spans.size() - 1);
        double end = Math.max(open.start(), track.seconds(ended.at()));
        spans.add(new Span(open.started(), Optional.of(ended), open.start(), end));
      }
    }
    return spans;
  }

  /**
   * The water of each pour (g): what ran out until the next, and by how much more stands on the bed
   * then.
   *
   * @param dry when the bed ran dry after each pour (s); empty where it did not
   * @param kept water that the grounds keep (g)
   */
  List<Double> water(List<Span> spans, List<Optional<Double>> dry, double kept) {
    List<double[]> drawdowns = new ArrayList<>();
    for (int i = 0; i < spans.size(); i++) {
      double end = spans.get(i).end();
      dry.get(i).ifPresent(at -> drawdowns.add(new double[] {end, at}));
    }
    StandingWater standing = new StandingWater(outflow, drawdowns);
    List<Double> water = new ArrayList<>();
    double stood = -kept;
    for (int i = 0; i < spans.size(); i++) {
      double next = i + 1 < spans.size() ? spans.get(i + 1).start() : until;
      double ran = outflow.massAt(next) - outflow.massAt(spans.get(i).start());
      double stands = dry.get(i).isPresent() ? 0 : standing.at(next);
      water.add(Math.max(0, ran + stands - stood));
      stood = stands;
    }
    return water;
  }

  Findings.Pour pour(int index, Span span, double water) {
    return new Findings.Pour(
        index,
        track.moment(span.start()),
        track.moment(span.end()),
        Mass.ofGrams(water),
        Flow.of(Mass.ofGrams(water), Math.max(0.1, span.end() - span.start())),
        Optional.of(span.started().knownAt()),
        span.ended().map(PourEnded::knownAt),
        false);
  }
}
