package pourwright.review;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalInt;
import java.util.Set;
import pourwright.compare.Comparison;
import pourwright.compare.Verdict;

/**
 * What one cause adds to the mean square of the deviation index over runs.
 *
 * @param cause kind of error
 * @param pour planned pour, empty for extra ones
 * @param part 0 to 1; all costs of a review sum to 1
 * @param runs in how many runs it added anything
 */
public record Cost(Cause cause, OptionalInt pour, double part, int runs) {

  /** Why a run was off. */
  public enum Cause {
    MASS,
    START,
    FLOW,
    MISSED,
    EXTRA
  }

  private record Account(Cause cause, OptionalInt pour) {}

  /** Costs of runs of one plan, dearest first; empty when no run was off at all. */
  static List<Cost> of(List<Run> runs) {
    Map<Account, Double> squares = new LinkedHashMap<>();
    Map<Account, Set<Long>> where = new HashMap<>();
    double total = 0;
    for (Run run : runs) {
      double square = run.comparison().deviationIndex() * run.comparison().deviationIndex();
      for (Comparison.Share share : run.comparison().shares()) {
        Comparison.JudgedPour pour = run.comparison().pours().get(share.line());
        if (share.part() > 0) {
          Account account = new Account(cause(pour.verdict(), share.kind()), pour.planned());
          squares.merge(account, share.part() * square, Double::sum);
          where.computeIfAbsent(account, first -> new HashSet<>()).add(run.id());
          total += share.part() * square;
        }
      }
    }
    if (total == 0) {
      return List.of();
    }
    List<Cost> costs = new ArrayList<>();
    for (Map.Entry<Account, Double> entry : squares.entrySet()) {
      costs.add(
          new Cost(
              entry.getKey().cause(),
              entry.getKey().pour(),
              entry.getValue() / total,
              where.getOrDefault(entry.getKey(), Set.of()).size()));
    }
    costs.sort(Comparator.comparingDouble(Cost::part).reversed());
    return List.copyOf(costs);
  }

  private static Cause cause(Verdict verdict, Comparison.Kind kind) {
    if (verdict == Verdict.MISSED) {
      return Cause.MISSED;
    }
    if (verdict == Verdict.EXTRA) {
      return Cause.EXTRA;
    }
    return switch (kind) {
      case MASS -> Cause.MASS;
      case START -> Cause.START;
      case FLOW -> Cause.FLOW;
    };
  }
}
