package pourwright.check;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/**
 * What the brewer has at hand for a check.
 *
 * @param weights of known mass, lightest first
 * @param object any steady object, for what needs no known mass where there is no weight
 */
public record Kit(List<TestLoad> weights, TestLoad object) {
  /** Used where nothing is named. */
  public static final TestLoad ANY_OBJECT =
      TestLoad.unknown("any steady object of about 100 to 300 g");

  /** More would take too long; own choice. */
  public static final int MOST_WEIGHTS = 8;

  public Kit {
    List<TestLoad> sorted = new ArrayList<>(weights);
    for (TestLoad weight : sorted) {
      if (weight.known().isEmpty()) {
        throw new IllegalArgumentException(weight.name() + " has no known mass");
      }
    }
    if (sorted.size() > MOST_WEIGHTS) {
      throw new IllegalArgumentException(
          "a check takes at most " + MOST_WEIGHTS + " known weights, not " + sorted.size());
    }
    sorted.sort(Comparator.comparing(weight -> weight.known().orElseThrow().mass()));
    weights = List.copyOf(sorted);
  }

  /** The load for repeats, corners and holding: the heaviest known one, else the object. */
  public TestLoad main() {
    return weights.isEmpty() ? object : weights.get(weights.size() - 1);
  }
}
