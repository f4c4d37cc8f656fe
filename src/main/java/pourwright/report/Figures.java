package pourwright.report;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.IntStream;
import pourwright.chart.CorridorChart;
import pourwright.chart.CourseChart;
import pourwright.chart.CupChart;
import pourwright.chart.HabitChart;
import pourwright.chart.RowChart;
import pourwright.coach.Feedback;
import pourwright.compare.PouredCurve;
import pourwright.compare.Verdict;
import pourwright.plan.Plan;
import pourwright.plan.Schedule;
import pourwright.review.Extraction;
import pourwright.review.Habit;
import pourwright.review.Lesson;
import pourwright.review.PlanReview;
import pourwright.review.PourReview;
import pourwright.review.Run;
import pourwright.statistic.Interval;
import pourwright.units.SessionTime;

/** The charts of a review, as SVG. */
public final class Figures {
  private static final double BAND_STEP_SECONDS = 0.5;
  private static final double TRACE_STEP_SECONDS = 0.25;

  /** The corridor is drawn this much past the last pour. */
  private static final double AFTER_SECONDS = 8;

  private Figures() {}

  /**
   * The water of one run over the time since its first drop.
   *
   * @param firstWater moment of the recording
   * @param lastWater likewise
   */
  public record Poured(long run, PouredCurve curve, SessionTime firstWater, SessionTime lastWater) {

    /** Whether there is something to draw: outflow alone does not show how water was poured. */
    public boolean isSeen() {
      return !curve.isEmpty();
    }
  }

  /** All charts of a review that have something to show, by a name fit for a file. */
  public static Map<String, String> of(PlanReview review, List<Poured> poured) {
    Map<String, String> charts = new LinkedHashMap<>();
    charts.put("row", row(review));
    charts.put("habits", habits(review.pours()));
    charts.put("course", course(review));
    if (poured.stream().anyMatch(Poured::isSeen)) {
      charts.put("corridor", corridor(review.plan(), poured, review.last().id()));
    }
    cup(review).ifPresent(cup -> charts.put("cup", cup));
    return charts;
  }

  /** Runs on the corridor of their plan, one of them strong. */
  public static String corridor(Plan plan, List<Poured> runs, long main) {
    List<CorridorChart.Trace> traces =
        runs.stream().filter(Poured::isSeen).map(run -> trace(run, run.run() == main)).toList();
    return CorridorChart.draw(
        traces.size() == 1
            ? "One run on the corridor of its plan"
            : traces.size() + " runs on the corridor of their plan, the strong line is the last",
        band(plan),
        traces);
  }

  private static CorridorChart.Band band(Plan plan) {
    Schedule schedule = Schedule.of(plan);
    double end = schedule.slots().get(schedule.slots().size() - 1).end().seconds() + AFTER_SECONDS;
    int size = (int) Math.ceil(end / BAND_STEP_SECONDS) + 1;
    double[] seconds = new double[size];
    double[] low = new double[size];
    double[] planned = new double[size];
    double[] high = new double[size];
    for (int i = 0; i < size; i++) {
      seconds[i] = i * BAND_STEP_SECONDS;
      Schedule.Corridor corridor = schedule.corridorAt(SessionTime.ofSeconds(seconds[i]));
      low[i] = corridor.low().grams();
      planned[i] = corridor.planned().grams();
      high[i] = corridor.high().grams();
    }
    return new CorridorChart.Band(seconds, low, planned, high);
  }

  private static CorridorChart.Trace trace(Poured run, boolean isMain) {
    double length = run.lastWater().secondsSince(run.firstWater()) + AFTER_SECONDS / 2;
    int size = Math.max(2, (int) Math.ceil(length / TRACE_STEP_SECONDS) + 1);
    double[] seconds = new double[size];
    double[] grams = new double[size];
    double before = run.curve().massAt(run.firstWater()).grams();
    for (int i = 0; i < size; i++) {
      seconds[i] = i * TRACE_STEP_SECONDS;
      grams[i] =
          Math.max(
              0, run.curve().massAt(run.firstWater().plusSeconds(seconds[i])).grams() - before);
    }
    return new CorridorChart.Trace(seconds, grams, isMain);
  }

  /** Bias and scatter of every pour. */
  public static String habits(List<PourReview> pours) {
    List<HabitChart.Row> rows = new ArrayList<>();
    for (PourReview pour : pours) {
      boolean isFirst = true;
      for (Habit habit : pour.habits()) {
        if (!habit.errors().isEmpty()) {
          rows.add(row(isFirst ? "pour " + pour.pour() : "", habit));
          isFirst = false;
        }
      }
    }
    return HabitChart.draw("How far off each error of each pour is, in tolerances", rows);
  }

  private static HabitChart.Row row(String head, Habit habit) {
    double mean = habit.errors().mean().orElseThrow();
    Optional<Interval> where = habit.errors().meanInterval();
    OptionalDouble spread = habit.errors().spread();
    String words =
        Phrases.signed(mean, 1)
            + (spread.isPresent() ? " ± " + Phrases.plain(spread.getAsDouble(), 1) : "")
            + " "
            + Lesson.unit(habit.kind())
            + ", "
            + habit.within().map(share -> share.successes() + "/" + share.trials()).orElse("");
    return new HabitChart.Row(
        head,
        Lesson.noun(habit.kind()),
        mean / habit.tolerance(),
        where.map(Interval::low).orElse(mean) / habit.tolerance(),
        where.map(Interval::high).orElse(mean) / habit.tolerance(),
        spread.orElse(0) / habit.tolerance(),
        words);
  }

  /** The deviation index of run after run. */
  public static String course(PlanReview review) {
    List<Long> outliers = review.index().outliers();
    List<CourseChart.Point> points = new ArrayList<>();
    for (Run run : review.runs()) {
      points.add(
          new CourseChart.Point(
              run.comparison().deviationIndex(),
              run.feedback() == Feedback.BLIND ? CourseChart.Mark.BLIND : CourseChart.Mark.GUIDED,
              outliers.contains(run.id())));
    }
    return CourseChart.draw(
        "Deviation index of " + Phrases.runs(points.size()) + " in order",
        "deviation index (1 = everywhere just at tolerance)",
        points,
        1,
        review
            .index()
            .direction()
            .map(
                direction ->
                    new CourseChart.Way(
                        direction.line().intercept(),
                        direction.line().slope(),
                        direction.isClear())));
  }

  /** The last runs, clean or not. */
  public static String row(PlanReview review) {
    List<Run> runs = review.runs();
    List<Integer> misses =
        IntStream.range(Math.max(0, runs.size() - review.readiness().clean().trials()), runs.size())
            .mapToObj(
                i ->
                    (int)
                        runs.get(i).comparison().pours().stream()
                            .filter(pour -> pour.verdict() != Verdict.INSIDE)
                            .count())
            .toList();
    return RowChart.draw(
        String.format(
            Locale.ROOT,
            "The last %d runs in order; pours not inside: %s",
            misses.size(),
            misses.stream().map(String::valueOf).reduce((a, b) -> a + ", " + b).orElse("none")),
        misses);
  }

  /** Strength over extraction; empty without a cup whose beverage was weighed. */
  public static Optional<String> cup(PlanReview review) {
    List<CupChart.Cup> cups = new ArrayList<>();
    List<Extraction> extractions =
        review.cup().cups().stream()
            .map(cup -> cup.extraction())
            .filter(extraction -> extraction.percent().isPresent())
            .toList();
    for (int i = 0; i < extractions.size(); i++) {
      Extraction extraction = extractions.get(i);
      cups.add(
          new CupChart.Cup(
              extraction.percent().orElseThrow(),
              Extraction.COVERAGE * extraction.uncertainty(),
              extraction.strengthPercent(),
              Extraction.COVERAGE * extraction.strengthUncertainty(),
              i == extractions.size() - 1));
    }
    if (cups.isEmpty()) {
      return Optional.empty();
    }
    return Optional.of(
        CupChart.draw(
            "Strength over extraction of " + cups.size() + " cups, with the published region",
            cups,
            new CupChart.Region(
                Extraction.LEAST_EXTRACTED_PERCENT,
                Extraction.MOST_EXTRACTED_PERCENT,
                Extraction.WEAKEST_PERCENT,
                Extraction.STRONGEST_PERCENT)));
  }
}
