package pourwright.review;

import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import pourwright.coach.Feedback;
import pourwright.compare.Comparison;
import pourwright.compare.Verdict;
import pourwright.plan.Plan;
import pourwright.units.Mass;

/**
 * One rehearsal as a review sees it.
 *
 * @param id by which the journal knows it
 * @param brewer who poured
 * @param isSimulated whether no hand poured it
 * @param estimates what the brewer believed to have poured, before the truth was shown, by planned
 *     pour
 * @param cup what came of it
 * @param note the brewer's own words; may be empty
 */
public record Run(
    long id,
    Instant at,
    String brewer,
    Plan plan,
    Feedback feedback,
    boolean isSimulated,
    Comparison comparison,
    Map<Integer, Mass> estimates,
    Cup cup,
    String note) {

  public Run {
    estimates = Map.copyOf(estimates);
  }

  /**
   * The cup of a run.
   *
   * @param beverage weighed in the server; empty when it is not known
   */
  public record Cup(
      Optional<Mass> beverage, List<StrengthReading> strengths, List<Tasting> tastings) {
    public static final Cup NONE = new Cup(Optional.empty(), List.of(), List.of());

    public Cup {
      strengths = List.copyOf(strengths);
      tastings = List.copyOf(tastings);
    }
  }

  /**
   * One reading of a refractometer or the like.
   *
   * @param percent dissolved solids (% by mass)
   * @param uncertaintyPercent standard uncertainty of the instrument (percentage points)
   */
  public record StrengthReading(double percent, OptionalDouble uncertaintyPercent) {}

  /**
   * One tasting.
   *
   * @param scores 0 to 10 by item of the trade
   */
  public record Tasting(Map<String, Double> scores) {
    public Tasting {
      scores = Map.copyOf(scores);
    }
  }

  /** Whether every planned pour landed inside all tolerances and none was added. */
  public boolean isClean() {
    return comparison.pours().stream().allMatch(pour -> pour.verdict() == Verdict.INSIDE);
  }

  /** What became of a planned pour, counted from 1. */
  public Optional<Comparison.JudgedPour> findPour(int planned) {
    return comparison.pours().stream()
        .filter(pour -> pour.planned().isPresent() && pour.planned().getAsInt() == planned)
        .findFirst();
  }
}
