package pourwright.review;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import pourwright.compare.Comparison.JudgedPour;
import pourwright.compare.Comparison.Kind;
import pourwright.compare.Verdict;
import pourwright.plan.Plan;
import pourwright.plan.Tolerance;
import pourwright.statistic.Proportion;

/**
 * One planned pour over runs.
 *
 * @param pour from 1
 * @param inside runs in which it landed inside all its tolerances
 * @param missed runs in which it was not made
 * @param habits by kind of error; the first pour has none of its start as long as it always started
 *     the clock, which it does unless an extra pour came before it
 */
public record PourReview(int pour, Proportion inside, int missed, List<Habit> habits) {
  private static final double NANOS_PER_SECOND = 1e9;

  public PourReview {
    habits = List.copyOf(habits);
  }

  /**
   * Reviews a pour.
   *
   * @param runs at least one, all of this plan
   */
  static PourReview of(int pour, Plan plan, List<Run> runs) {
    int inside = 0;
    int missed = 0;
    for (Run run : runs) {
      Optional<JudgedPour> judged = run.findPour(pour);
      inside += judged.filter(made -> made.verdict() == Verdict.INSIDE).isPresent() ? 1 : 0;
      missed += judged.filter(made -> made.verdict() != Verdict.MISSED).isPresent() ? 0 : 1;
    }
    List<Habit> habits = new ArrayList<>();
    for (Kind kind : Kind.values()) {
      Series errors = series(pour, kind, runs);
      if (kind != Kind.START || pour > 1 || Arrays.stream(errors.toArray()).anyMatch(e -> e != 0)) {
        habits.add(new Habit(kind, tolerance(plan.tolerance(), kind), errors));
      }
    }
    return new PourReview(pour, new Proportion(inside, runs.size()), missed, habits);
  }

  /** The errors of one kind of one pour; runs that missed it have none. */
  static Series series(int pour, Kind kind, List<Run> runs) {
    List<Series.Point> points = new ArrayList<>();
    for (Run run : runs) {
      run.findPour(pour)
          .map(judged -> error(judged, kind))
          .filter(OptionalDouble::isPresent)
          .ifPresent(error -> points.add(new Series.Point(run.id(), error.getAsDouble())));
    }
    return new Series(points);
  }

  static OptionalDouble error(JudgedPour pour, Kind kind) {
    if (pour.placing().isEmpty()) {
      return OptionalDouble.empty();
    }
    return OptionalDouble.of(
        switch (kind) {
          case MASS -> pour.massError().grams();
          case START -> pour.placing().get().startError().toNanos() / NANOS_PER_SECOND;
          case FLOW -> pour.placing().get().flowError().gramsPerSecond();
        });
  }

  static double tolerance(Tolerance tolerance, Kind kind) {
    return switch (kind) {
      case MASS -> tolerance.mass().grams();
      case START -> tolerance.start().toNanos() / NANOS_PER_SECOND;
      case FLOW -> tolerance.flow().gramsPerSecond();
    };
  }

  /** The habit of one kind. */
  public Optional<Habit> findHabit(Kind kind) {
    return habits.stream().filter(habit -> habit.kind() == kind).findFirst();
  }
}
