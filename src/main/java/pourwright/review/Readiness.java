package pourwright.review;

import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.IntStream;
import pourwright.statistic.Interval;
import pourwright.statistic.Logistic;
import pourwright.statistic.Proportion;
import pourwright.statistic.SuccessRun;

/**
 * How likely all pours of the next run land inside tolerance.
 *
 * @param clean clean runs among the last ones
 * @param interval where the share lies if nothing changes from run to run (Clopper–Pearson)
 * @param coming chance of the next run to be clean if the way it went goes on; empty with fewer
 *     than {@link #RUNS_FOR_COMING} runs
 * @param streak clean runs in a row, up to the last one
 * @param weakest the pour that was inside least often; empty when all were always inside
 */
public record Readiness(
    Proportion clean,
    Interval interval,
    Optional<Coming> coming,
    int streak,
    Optional<PourReview> weakest) {

  /** Only so many last runs count: what one could do long ago says little; ours. */
  public static final int LAST_RUNS = 20;

  /** Fewer say nothing about a way it goes; ours. */
  public static final int RUNS_FOR_COMING = 8;

  /** What a claim of readiness means unless asked otherwise: nine in ten, 95 % sure. */
  public static final double CLAIM = 0.9;

  /** The next run, the trend allowed for. */
  public record Coming(double chance, Interval interval) {}

  /**
   * Readiness after these runs.
   *
   * @param runs of one plan in the order they were made, at least one
   */
  static Readiness of(List<Run> runs, List<PourReview> pours) {
    List<Run> last = runs.subList(Math.max(0, runs.size() - LAST_RUNS), runs.size());
    int clean = (int) last.stream().filter(Run::isClean).count();
    int streak = 0;
    for (int i = runs.size() - 1; i >= 0 && runs.get(i).isClean(); i--) {
      streak++;
    }
    Proportion share = new Proportion(clean, last.size());
    return new Readiness(
        share,
        share.clopperPearson(Series.CONFIDENCE),
        coming(last),
        streak,
        pours.stream()
            .filter(pour -> pour.inside().successes() < pour.inside().trials())
            .min(Comparator.comparingDouble(pour -> pour.inside().share())));
  }

  private static Optional<Coming> coming(List<Run> last) {
    if (last.size() < RUNS_FOR_COMING) {
      return Optional.empty();
    }
    double[] order = IntStream.range(0, last.size()).asDoubleStream().toArray();
    boolean[] clean = new boolean[last.size()];
    for (int i = 0; i < clean.length; i++) {
      clean[i] = last.get(i).isClean();
    }
    Logistic course = Logistic.of(order, clean);
    return Optional.of(
        new Coming(
            course.chanceAt(last.size()), course.chanceInterval(last.size(), Series.CONFIDENCE)));
  }

  /** Clean runs in a row that show {@code reliability} at {@code confidence}. */
  public static int runsNeeded(double reliability, double confidence) {
    return SuccessRun.runsNeeded(reliability, confidence);
  }

  /** How reliable the present row of clean runs shows the brewer to be. */
  public double shown() {
    return SuccessRun.reliabilityShown(streak, Series.CONFIDENCE);
  }

  /** Whether the row is long enough for {@link #CLAIM}. */
  public boolean isShown() {
    return streak >= runsNeeded(CLAIM, Series.CONFIDENCE);
  }

  /** In one plain sentence. */
  public String sentence() {
    int needed = runsNeeded(CLAIM, Series.CONFIDENCE);
    if (isShown()) {
      return String.format(
          Locale.ROOT,
          "Ready by the rule: %d clean runs in a row show at least nine in ten, 95 %% sure.",
          streak);
    }
    String row =
        streak == 0
            ? "the last run was not clean"
            : streak == 1 ? "one clean run in a row" : streak + " clean runs in a row";
    return String.format(
        Locale.ROOT,
        "Not shown yet: %d of the last %d runs %s clean (95 %%: %.0f to %.0f %%), %s; %d in a row"
            + " would show nine in ten.",
        clean.successes(),
        clean.trials(),
        clean.successes() == 1 ? "was" : "were",
        100 * interval.low(),
        100 * interval.high(),
        row,
        needed);
  }
}
