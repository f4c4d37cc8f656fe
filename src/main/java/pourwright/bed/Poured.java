package pourwright.bed;

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

  double seconds() {
    return end.secondsSince(start);
  }
}
