package pourwright.bed;

import java.util.ArrayList;
import java.util.List;
import pourwright.detect.Findings;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * Water that came in at an even flow.
 *
 * @param start first water landed
 * @param end last water landed, after {@code start}
 */
public record Poured(SessionTime start, SessionTime end, Mass mass) {
  public Poured {
    if (!end.isAfter(start) || mass.isNegative()) {
      throw new IllegalArgumentException(
          "a pour has a length and a mass, not " + start + "–" + end);
    }
  }

  /** The pours of a run; empty where they are no brew that a model could run. */
  static List<Poured> listOf(Findings findings) {
    List<Poured> pours = new ArrayList<>();
    for (Findings.Pour pour : findings.pours()) {
      if (!pour.end().isAfter(pour.start())
          || pour.poured().isNegative()
          || (!pours.isEmpty() && pour.start().isBefore(pours.get(pours.size() - 1).end()))) {
        return List.of();
      }
      pours.add(new Poured(pour.start(), pour.end(), pour.poured()));
    }
    return pours;
  }

  double seconds() {
    return end.secondsSince(start);
  }
}
