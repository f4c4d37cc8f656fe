package pourwright.coach;

import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.ToDoubleFunction;
import pourwright.compare.Comparison;
import pourwright.compare.Comparison.JudgedPour;
import pourwright.compare.Comparison.Kind;
import pourwright.compare.Comparison.Share;
import pourwright.compare.Verdict;
import pourwright.plan.Plan;
import pourwright.plan.Tolerance;

/**
 * The one thing to work on after a run, in a plain sentence.
 *
 * <p>It is the kind of error that adds most to the deviation index. When the pours err to one side
 * by more than they scatter it is a habit and is told as their mean; else it is told of the pour
 * that was worst. One thing only: who is told of five changes none.
 */
public final class Advice {
  private static final int FEWEST_FOR_HABIT = 3;

  private Advice() {}

  /** What to work on next. */
  public static String workOn(Plan plan, Comparison comparison) {
    for (JudgedPour pour : comparison.pours()) {
      if (pour.verdict() == Verdict.MISSED) {
        return "Pour " + pour.planned().orElseThrow() + " was missed: make every pour first.";
      }
    }
    for (JudgedPour pour : comparison.pours()) {
      if (pour.verdict() == Verdict.EXTRA) {
        return "Leave out the pour that is not in the plan.";
      }
    }
    boolean isAllInside =
        comparison.pours().stream().allMatch(pour -> pour.verdict() == Verdict.INSIDE);
    if (comparison.shares().isEmpty() || isAllInside) {
      return "Every pour is inside its tolerances. Now do it again.";
    }
    Kind worst = worstKind(comparison.shares());
    List<JudgedPour> made =
        comparison.pours().stream().filter(pour -> pour.placing().isPresent()).toList();
    ToDoubleFunction<JudgedPour> error = error(worst);
    double mean = made.stream().mapToDouble(error).average().orElse(0);
    double spread =
        Math.sqrt(
            made.stream()
                .mapToDouble(pour -> Math.pow(error.applyAsDouble(pour) - mean, 2))
                .average()
                .orElse(0));
    if (made.size() >= FEWEST_FOR_HABIT
        && Math.abs(mean) > spread
        && Math.abs(mean) > tolerance(plan.tolerance(), worst) / 2) {
      return habit(worst, mean);
    }
    JudgedPour farthest =
        made.stream()
            .max(Comparator.comparingDouble(pour -> Math.abs(error.applyAsDouble(pour))))
            .orElseThrow();
    return "Pour "
        + farthest.planned().orElseThrow()
        + ": "
        + single(worst, error.applyAsDouble(farthest));
  }

  private static Kind worstKind(List<Share> shares) {
    Map<Kind, Double> sums = new EnumMap<>(Kind.class);
    shares.forEach(share -> sums.merge(share.kind(), share.part(), Double::sum));
    return sums.entrySet().stream().max(Map.Entry.comparingByValue()).orElseThrow().getKey();
  }

  /** Grams, seconds or grams per second. */
  private static ToDoubleFunction<JudgedPour> error(Kind kind) {
    return switch (kind) {
      case MASS -> pour -> pour.massError().grams();
      case START -> pour -> pour.placing().orElseThrow().startError().toNanos() / 1e9;
      case FLOW -> pour -> pour.placing().orElseThrow().flowError().gramsPerSecond();
    };
  }

  private static double tolerance(Tolerance tolerance, Kind kind) {
    return switch (kind) {
      case MASS -> tolerance.mass().grams();
      case START -> tolerance.start().toNanos() / 1e9;
      case FLOW -> tolerance.flow().gramsPerSecond();
    };
  }

  private static String habit(Kind kind, double mean) {
    String size = size(kind, mean);
    boolean isMore = mean > 0;
    return switch (kind) {
      case MASS ->
          isMore
              ? "Stop sooner: your pours are " + size + " too heavy on average."
              : "Pour on a little: your pours are " + size + " short on average.";
      case START ->
          isMore
              ? "Begin sooner: your pours start " + size + " late on average."
              : "Hold back: your pours start " + size + " early on average.";
      case FLOW ->
          isMore
              ? "Pour slower: your water runs " + size + " too fast on average."
              : "Pour faster: your water runs " + size + " too slow on average.";
    };
  }

  private static String single(Kind kind, double error) {
    String size = size(kind, error);
    boolean isMore = error > 0;
    return switch (kind) {
      case MASS ->
          isMore ? "stop sooner, it was " + size + " too heavy." : "it was " + size + " short.";
      case START ->
          isMore
              ? "begin sooner, it was " + size + " late."
              : "hold back, it was " + size + " early.";
      case FLOW ->
          isMore
              ? "pour slower, it ran " + size + " too fast."
              : "pour faster, it ran " + size + " too slow.";
    };
  }

  private static String size(Kind kind, double error) {
    String unit =
        switch (kind) {
          case MASS -> "g";
          case START -> "s";
          case FLOW -> "g/s";
        };
    return String.format(Locale.ROOT, "%.1f %s", Math.abs(error), unit);
  }
}
