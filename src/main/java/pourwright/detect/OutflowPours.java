package pourwright.detect;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
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

  /** The edges of pours that were announced, fitted from both sides. */
  List<Candidate> fitted(List<Candidate> announced) {
    List<Candidate> found = new ArrayList<>();
    for (int i = 0; i < announced.size(); i++) {
      Candidate pour = announced.get(i);
      double before = i == 0 ? 0 : found.get(i - 1).end();
      double next = i + 1 < announced.size() ? announced.get(i + 1).start() : until;
      double start = bends.find(pour.start(), before, Math.min(pour.end(), until), true);
      double end = pour.endSaid().isEmpty() ? until : bends.find(pour.end(), start, next, false);
      found.add(pour.withEdges(start, end));
    }
    return found;
  }

  /**
   * The water of each pour (g): what ran out until the next, and by how much more stands on the bed
   * then.
   *
   * @param dry when the bed ran dry after each pour (s); empty where it did not
   * @param kept water that the grounds keep (g)
   */
  List<Double> water(List<Candidate> pours, List<Optional<Double>> dry, double kept) {
    List<double[]> drawdowns = new ArrayList<>();
    for (int i = 0; i < pours.size(); i++) {
      double end = pours.get(i).end();
      dry.get(i).ifPresent(at -> drawdowns.add(new double[] {end, at}));
    }
    StandingWater standing = new StandingWater(outflow, drawdowns);
    List<Double> water = new ArrayList<>();
    double stood = -kept;
    for (int i = 0; i < pours.size(); i++) {
      double next = i + 1 < pours.size() ? pours.get(i + 1).start() : until;
      double ran = outflow.massAt(next) - outflow.massAt(pours.get(i).start());
      double stands = dry.get(i).isPresent() ? 0 : standing.at(next);
      water.add(Math.max(0, ran + stands - stood));
      stood = stands;
    }
    return water;
  }

  Findings.Pour pour(int index, Candidate pour, double water) {
    return new Findings.Pour(
        index,
        track.moment(pour.start()),
        track.moment(pour.end()),
        Mass.ofGrams(water),
        Flow.of(Mass.ofGrams(water), Math.max(0.1, pour.end() - pour.start())),
        pour.startSaid(),
        pour.endSaid(),
        false);
  }
}
