package pourwright.review;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import pourwright.compare.Comparison.Kind;
import pourwright.statistic.Holm;
import pourwright.statistic.Welch;

/**
 * What differs between two groups of runs: two recipes, two weeks.
 *
 * @param first deviation index of the first group
 * @param second of the second
 * @param lines what was compared; the deviation index first, then, for runs of plans with the same
 *     pours, each error of each pour
 */
public record Difference(Series first, Series second, List<Line> lines) {

  public Difference {
    lines = List.copyOf(lines);
  }

  /**
   * One comparison.
   *
   * @param what in plain words
   * @param unit empty for the index
   * @param test first less second; empty where there are too few values or no spread
   * @param adjustedP with all lines asked at once allowed for (Holm); 1 without a test
   */
  public record Line(String what, String unit, Optional<Welch> test, double adjustedP) {

    /** Whether chance is an unlikely reason. */
    public boolean isClear() {
      return adjustedP < 1 - Series.CONFIDENCE;
    }
  }

  private record Asked(String what, String unit, Optional<Welch> test) {}

  /** Compares two groups. */
  public static Difference of(List<Run> first, List<Run> second) {
    Series indexOfFirst = FeedbackReview.index(first);
    Series indexOfSecond = FeedbackReview.index(second);
    List<Asked> asked = new ArrayList<>();
    asked.add(
        new Asked("deviation index", "", FeedbackReview.difference(indexOfFirst, indexOfSecond)));
    for (int pour = 1; pour <= samePours(first, second); pour++) {
      for (Kind kind : Kind.values()) {
        asked.add(
            new Asked(
                "pour " + pour + ", " + Lesson.noun(kind),
                Lesson.unit(kind),
                FeedbackReview.difference(
                    PourReview.series(pour, kind, first), PourReview.series(pour, kind, second))));
      }
    }
    double[] adjusted =
        Holm.adjusted(
            asked.stream().flatMap(line -> line.test().stream()).mapToDouble(Welch::p).toArray());
    List<Line> lines = new ArrayList<>();
    int next = 0;
    for (Asked line : asked) {
      double p = line.test().isPresent() ? adjusted[next++] : 1;
      lines.add(new Line(line.what(), line.unit(), line.test(), p));
    }
    return new Difference(indexOfFirst, indexOfSecond, lines);
  }

  /** How many pours all runs have in common; none when plans differ in their count. */
  private static int samePours(List<Run> first, List<Run> second) {
    List<Integer> counts = new ArrayList<>();
    first.forEach(run -> counts.add(run.plan().pours().size()));
    second.forEach(run -> counts.add(run.plan().pours().size()));
    return counts.stream().distinct().count() == 1 ? counts.get(0) : 0;
  }
}
