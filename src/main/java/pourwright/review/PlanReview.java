package pourwright.review;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.IntStream;
import pourwright.plan.Plan;
import pourwright.plan.PlannedPour;
import pourwright.plan.Tolerance;

/**
 * All runs of one plan, reviewed.
 *
 * @param plan as it was in the last run
 * @param runs in the order they were made
 * @param index deviation index of run after run
 * @param costs what the deviations come from, dearest first; runs whose index lies apart from the
 *     rest are left out
 * @param lesson what to practise next; empty when no run was off
 */
public record PlanReview(
    Plan plan,
    List<Run> runs,
    Series index,
    List<PourReview> pours,
    List<Cost> costs,
    Optional<Lesson> lesson,
    Readiness readiness,
    FeedbackReview feedback,
    CupReview cup) {

  public PlanReview {
    runs = List.copyOf(runs);
    pours = List.copyOf(pours);
    costs = List.copyOf(costs);
  }

  /** Runs are of one plan when they pour the same, by the same tolerances, under one title. */
  private record Likeness(
      String title, List<PlannedPour> pours, Tolerance tolerance, boolean isSimulated) {
    static Likeness of(Run run) {
      return new Likeness(
          run.plan().title(), run.plan().pours(), run.plan().tolerance(), run.isSimulated());
    }
  }

  /**
   * One review for each plan, the one rehearsed last first. A plan that was changed is another
   * plan, and simulated runs are never mixed with real ones.
   *
   * @param runs in any order, void and deleted ones left out
   */
  public static List<PlanReview> listOf(List<Run> runs) {
    Map<Likeness, List<Run>> plans = new LinkedHashMap<>();
    runs.stream()
        .sorted(Comparator.comparing(Run::at).thenComparing(Run::id))
        .forEach(
            run -> plans.computeIfAbsent(Likeness.of(run), first -> new ArrayList<>()).add(run));
    return plans.values().stream()
        .map(PlanReview::of)
        .sorted(Comparator.comparing((PlanReview review) -> review.last().at()).reversed())
        .toList();
  }

  private static PlanReview of(List<Run> runs) {
    Plan plan = runs.get(runs.size() - 1).plan();
    List<PourReview> pours = reviewPours(plan, runs);
    Series index = FeedbackReview.index(runs);
    // one run gone wrong altogether would outweigh what happens in all the others
    List<Long> apart = index.outliers();
    List<Run> usual = runs.stream().filter(run -> !apart.contains(run.id())).toList();
    List<Cost> costs = Cost.of(usual);
    return new PlanReview(
        plan,
        runs,
        index,
        pours,
        costs,
        Lesson.of(costs, reviewPours(plan, usual), usual.size(), apart),
        Readiness.of(runs, pours),
        FeedbackReview.of(runs),
        CupReview.of(runs));
  }

  private static List<PourReview> reviewPours(Plan plan, List<Run> runs) {
    return IntStream.rangeClosed(1, plan.pours().size())
        .mapToObj(pour -> PourReview.of(pour, plan, runs))
        .toList();
  }

  /** The newest run. */
  public Run last() {
    return runs.get(runs.size() - 1);
  }

  public boolean isSimulated() {
    return last().isSimulated();
  }
}
