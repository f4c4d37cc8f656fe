package pourwright.bench;

import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;

/** Errors of one family, gathered over its recordings. */
final class Tally {
  /** What is measured, in the order of the table. */
  enum Measure {
    LIVE_START("live start", "s"),
    LIVE_END("live end", "s"),
    START("start", "s"),
    END("end", "s"),
    MASS("mass", "g"),
    DRAINED("drained", "s"),
    LIFT("lift", "s"),
    REMOVED("removed", "g"),
    BEVERAGE("beverage", "g"),
    BOUND_LIVE_START("bound of live start", "s"),
    BOUND_LIVE_END("bound of live end", "s"),
    BOUND_START("bound of start", "s"),
    BOUND_END("bound of end", "s"),
    BOUND_MASS("bound of mass", "g");

    private final String words;
    private final String unit;

    Measure(String words, String unit) {
      this.words = words;
      this.unit = unit;
    }

    String words() {
      return words;
    }

    String unit() {
      return unit;
    }
  }

  /** What is counted. */
  enum Count {
    POURS,
    LIVE_MISSED,
    LIVE_FALSE,
    /** Live ends more than half a second before the last water. */
    LIVE_EARLY,
    MISSED,
    FALSE,
    DRAINED_DUE,
    DRAINED_MISSED,
    LIFT_MISSED,
    LIFT_FALSE,
    BEVERAGE_MISSED
  }

  /** A recording and how bad it went; above 1 is outside a target. */
  record Case(long seed, double badness, String why) {}

  /**
   * One pour that was found, with the signs of its errors; not a number where the edge was veiled.
   *
   * @param about the conditions of its recording
   */
  record Sighting(
      long seed, int pour, double startError, double endError, double massError, String about) {}

  private final Family family;
  private final Map<Measure, List<Double>> errors = new EnumMap<>(Measure.class);
  private final Map<Count, Integer> counts = new EnumMap<>(Count.class);
  private final List<Case> cases = new ArrayList<>();
  private final List<Sighting> sightings = new ArrayList<>();

  Tally(Family family) {
    this.family = family;
    for (Measure measure : Measure.values()) {
      errors.put(measure, new ArrayList<>());
    }
    for (Count count : Count.values()) {
      counts.put(count, 0);
    }
  }

  Family family() {
    return family;
  }

  void add(Measure measure, double error) {
    if (!Double.isNaN(error)) {
      Objects.requireNonNull(errors.get(measure)).add(error);
    }
  }

  void count(Count count) {
    counts.merge(count, 1, Integer::sum);
  }

  void add(Case worked) {
    cases.add(worked);
  }

  void add(Sighting sighting) {
    sightings.add(sighting);
  }

  List<Sighting> listSightings() {
    return List.copyOf(sightings);
  }

  int number(Count count) {
    return Objects.requireNonNull(counts.get(count));
  }

  int size(Measure measure) {
    return Objects.requireNonNull(errors.get(measure)).size();
  }

  double median(Measure measure) {
    return quantile(measure, 0.5);
  }

  double p95(Measure measure) {
    return quantile(measure, 0.95);
  }

  /** Missed and false announcements per 200 pours. */
  double liveWrong() {
    return per200(number(Count.LIVE_MISSED) + number(Count.LIVE_FALSE));
  }

  /** Missed and false pours of the finished recordings per 200 pours. */
  double wrong() {
    return per200(number(Count.MISSED) + number(Count.FALSE));
  }

  /** The worst recordings, worst first. */
  List<Case> listWorst(int most) {
    return cases.stream()
        .sorted(Comparator.comparingDouble(Case::badness).reversed())
        .limit(most)
        .toList();
  }

  private double per200(int number) {
    return 200.0 * number / Math.max(1, number(Count.POURS));
  }

  /** By nearest rank; not a number when nothing was measured. */
  private double quantile(Measure measure, double share) {
    List<Double> sorted = new ArrayList<>(Objects.requireNonNull(errors.get(measure)));
    if (sorted.isEmpty()) {
      return Double.NaN;
    }
    Collections.sort(sorted);
    return sorted.get(Math.max(0, (int) Math.ceil(share * sorted.size()) - 1));
  }
}
