package pourwright.simulate;

import java.util.List;

/**
 * When one pair of hands comes to this rig, where it serves several.
 *
 * @param pourSeconds start of each pour, counted from the first water of all rigs (s)
 * @param liftSeconds when the dripper is taken off, unless the bed is still wet (s)
 */
public record Moments(List<Double> pourSeconds, double liftSeconds) {
  public Moments {
    pourSeconds = List.copyOf(pourSeconds);
    if (pourSeconds.isEmpty() || pourSeconds.get(0) < 0) {
      throw new IllegalArgumentException("a rig has a first pour, and not before the first of all");
    }
  }

  double firstSeconds() {
    return pourSeconds.get(0);
  }
}
