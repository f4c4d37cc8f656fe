package pourwright.compare;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import pourwright.compare.Comparison.Departure;
import pourwright.plan.PlannedPour;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/** The water that counts as one planned pour: one made pour, its pieces, or a part of one. */
record Stretch(List<MadePour> pieces) {
  /** Start and stop of a pour and the scale's lag blur this much of it at either end (s). */
  private static final double EDGE_SECONDS = 1.0;

  /** Flow is taken over this long, so that noise and steps of the display average out (s). */
  private static final double WINDOW_SECONDS = 1.0;

  private static final int WINDOWS_MIN = 3;

  /** Slower scales, and pours that could not be traced, show no steadiness. */
  private static final double SAMPLES_PER_SECOND_MIN = 2;

  Stretch {
    pieces = List.copyOf(pieces);
  }

  /**
   * A part of a pour that ran at its mean flow.
   *
   * @param from where the part begins, as a share of all its water (0 to 1)
   * @param to where it ends
   */
  static Stretch part(MadePour pour, double from, double to) {
    SessionTime start = pour.start().plusSeconds(from * pour.seconds());
    SessionTime end = pour.start().plusSeconds(to * pour.seconds());
    Mass poured = Mass.ofGrams((to - from) * pour.poured().grams());
    return new Stretch(List.of(new MadePour(pour.index(), start, end, poured, pour.meanFlow())));
  }

  SessionTime start() {
    return pieces.get(0).start();
  }

  SessionTime end() {
    return pieces.get(pieces.size() - 1).end();
  }

  List<Integer> indices() {
    return pieces.stream().map(MadePour::index).toList();
  }

  Mass poured() {
    return pieces.stream().map(MadePour::poured).reduce(Mass.ZERO, Mass::plus);
  }

  /** Mean flow while water ran. */
  Flow flow() {
    if (pieces.size() == 1) {
      return pieces.get(0).meanFlow();
    }
    double seconds = pieces.stream().mapToDouble(MadePour::seconds).sum();
    return seconds > 0 ? Flow.of(poured(), seconds) : Flow.ZERO;
  }

  /**
   * The farthest the water was from the line that begins when the pour is due and rises with its
   * flow. Both are made of straight pieces, so the farthest point is at one of their corners.
   */
  Departure departure(PouredCurve curve, SessionTime due, PlannedPour planned) {
    SessionTime plannedEnd = due.plus(planned.length());
    List<SessionTime> corners = new ArrayList<>(List.of(due, plannedEnd));
    for (MadePour piece : pieces) {
      corners.add(piece.start());
      corners.add(piece.end());
      for (int i = curve.firstFrom(piece.start());
          i < curve.size() && curve.timeOf(i).isBefore(piece.end());
          i++) {
        corners.add(curve.timeOf(i));
      }
    }
    Departure farthest = new Departure(Mass.ZERO, due);
    for (SessionTime at : corners) {
      Mass wanted =
          at.isBefore(plannedEnd)
              ? planned.flow().during(Math.max(0, at.secondsSince(due)))
              : planned.add();
      Mass by = pouredBy(curve, at).minus(wanted);
      if (by.abs().compareTo(farthest.by().abs()) > 0) {
        farthest = new Departure(by, at);
      }
    }
    return farthest;
  }

  private Mass pouredBy(PouredCurve curve, SessionTime at) {
    Mass sum = Mass.ZERO;
    for (MadePour piece : pieces) {
      if (at.isAfter(piece.start())) {
        sum = sum.plus(pouredBy(curve, piece, at));
      }
    }
    return sum;
  }

  private static Mass pouredBy(PouredCurve curve, MadePour piece, SessionTime at) {
    boolean over = !at.isBefore(piece.end());
    if (!curve.isEmpty()) {
      return curve.massAt(over ? piece.end() : at).minus(curve.massAt(piece.start()));
    }
    double share = over ? 1 : at.secondsSince(piece.start()) / piece.seconds();
    return Mass.ofGrams(piece.poured().grams() * share);
  }

  /** Coefficient of variation of the flow, away from the edges of the pour. */
  OptionalDouble unsteadiness(PouredCurve curve) {
    if (curve.isEmpty()) {
      return OptionalDouble.empty();
    }
    List<Double> flows = new ArrayList<>();
    for (MadePour piece : pieces) {
      int samples = curve.firstFrom(piece.end()) - curve.firstFrom(piece.start());
      if (samples < SAMPLES_PER_SECOND_MIN * piece.seconds()) {
        continue; // a straight line would look like a perfect hand
      }
      double steady = piece.seconds() - 2 * EDGE_SECONDS;
      SessionTime from = piece.start().plusSeconds(EDGE_SECONDS);
      for (int i = 0; (i + 1) * WINDOW_SECONDS <= steady; i++) {
        Mass before = curve.massAt(from.plusSeconds(i * WINDOW_SECONDS));
        Mass after = curve.massAt(from.plusSeconds((i + 1) * WINDOW_SECONDS));
        flows.add(after.minus(before).grams() / WINDOW_SECONDS);
      }
    }
    double mean = flows.stream().mapToDouble(Double::doubleValue).average().orElse(0);
    if (flows.size() < WINDOWS_MIN || mean <= 0) {
      return OptionalDouble.empty();
    }
    double squares = flows.stream().mapToDouble(flow -> (flow - mean) * (flow - mean)).sum();
    return OptionalDouble.of(Math.sqrt(squares / (flows.size() - 1)) / mean);
  }
}
