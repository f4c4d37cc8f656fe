package pourwright.report;

import java.time.ZoneId;
import java.util.List;
import java.util.Map;
import pourwright.review.Cost;
import pourwright.review.CupReview;
import pourwright.review.Extraction;
import pourwright.review.FeedbackReview;
import pourwright.review.Habit;
import pourwright.review.PlanReview;
import pourwright.review.PourReview;
import pourwright.review.Run;
import pourwright.review.Series;

/** The runs of one plan over a period, to print. */
public final class PeriodSheet {
  private static final String STYLE =
      """
      table + h1, p + h1 { page-break-before: always; }
      .say { font-size: 15pt; line-height: 1.2; font-weight: 700; margin: 4mm 0 1mm; }
      .small { font-size: 8.5pt; }
      .small td, .small th { padding: 0.7mm 1.2mm; }
      """;
  private static final int MOST_COSTS = 6;

  private PeriodSheet() {}

  /**
   * The runs of one plan.
   *
   * @param charts as {@link Figures#of} gives them
   */
  public record Part(PlanReview review, Map<String, String> charts) {}

  /**
   * Lays out reviews, each plan from a new page on.
   *
   * @param parts at least one
   * @param zone in which dates are told
   */
  public static Sheet of(List<Part> parts, ZoneId zone) {
    Html html = new Html();
    for (Part part : parts) {
      part(html, part.review(), part.charts(), zone);
    }
    return new Sheet(
        (parts.size() == 1 ? parts.get(0).review().plan().title() : "All plans") + " – review",
        STYLE,
        html.body());
  }

  private static void part(Html html, PlanReview review, Map<String, String> charts, ZoneId zone) {
    head(html, review, zone);
    html.heading("Ready?");
    html.chart(charts.get("row"));
    html.text(review.readiness().sentence());
    html.text(Phrases.coming(review.readiness()));
    html.text(Phrases.weakest(review.readiness()));
    html.heading("Pour by pour");
    html.chart(charts.get("habits"));
    html.faint(
        "A mark is the average, the thick bar where it lies with 95 % confidence, the thin one the"
            + " scatter from run to run; the band is the plan's tolerance.");
    pours(html, review);
    html.heading("Run after run");
    html.chart(charts.get("course"));
    html.text(
        "Deviation index "
            + Phrases.mean(review.index(), 2)
            + ", "
            + Phrases.direction(review.index(), "")
            + ".");
    if (charts.containsKey("corridor")) {
      html.heading("On the corridor of the plan");
      html.chart(charts.get("corridor"));
    }
    costs(html, review.costs());
    feedback(html, review.feedback());
    cup(html, review.cup(), charts);
    runs(html, review, zone);
  }

  private static void head(Html html, PlanReview review, ZoneId zone) {
    html.title(review.plan().title());
    String from = Phrases.day(review.runs().get(0).at(), zone);
    String to = Phrases.day(review.last().at(), zone);
    html.faint(
        Phrases.runs(review.runs().size())
            + ", "
            + (from.equals(to) ? from : from + " to " + to)
            + (review.isSimulated() ? ", simulated" : "")
            + ". Intervals hold with 95 % confidence.");
    review
        .lesson()
        .ifPresentOrElse(
            lesson -> {
              html.paragraph("say", lesson.sentence());
              html.text(lesson.evidence());
            },
            () -> html.paragraph("say", "Nothing was off."));
  }

  private static void pours(Html html, PlanReview review) {
    html.startTable(
        "small", "nwnnnnww", "pour", "error", "bias", "scatter", "within", "Cpk", "trend", "apart");
    for (PourReview pour : review.pours()) {
      for (Habit habit : pour.habits()) {
        Series errors = habit.errors();
        html.row(
            String.valueOf(pour.pour()),
            Phrases.kind(habit.kind()),
            Phrases.bias(errors),
            Phrases.spread(errors, 1),
            habit.within().map(Phrases::share).orElse("–"),
            habit.capability().map(fit -> Phrases.plain(fit.cpk(), 2)).orElse("–"),
            Phrases.direction(errors, ""),
            apart(errors.outliers()));
      }
    }
    html.endTable();
  }

  private static String apart(List<Long> outliers) {
    return outliers.isEmpty()
        ? "–"
        : outliers.stream().map(run -> "run " + run).reduce((a, b) -> a + ", " + b).orElse("");
  }

  private static void costs(Html html, List<Cost> costs) {
    if (costs.isEmpty()) {
      return;
    }
    html.heading("What the deviation comes from");
    html.startTable("", "wn", "cause", "part");
    double rest = 0;
    for (int i = 0; i < costs.size(); i++) {
      if (i < MOST_COSTS) {
        html.row(Phrases.cost(costs.get(i)), Phrases.percent(costs.get(i).part()));
      } else {
        rest += costs.get(i).part();
      }
    }
    if (rest > 0) {
      html.row("all others", Phrases.percent(rest));
    }
    html.endTable();
  }

  private static void feedback(Html html, FeedbackReview feedback) {
    html.heading("Guided and blind");
    html.startTable("", "wnnn", "feedback", "runs", "deviation index", "scatter");
    for (FeedbackReview.Kind kind : feedback.kinds()) {
      html.row(
          Phrases.feedback(kind.feedback()),
          String.valueOf(kind.index().size()),
          Phrases.mean(kind.index(), 2),
          Phrases.spread(kind.index(), 2));
    }
    html.endTable();
    html.text(Phrases.retention(feedback.retention()));
    html.text(Phrases.guesses(feedback.guesses()));
  }

  private static void cup(Html html, CupReview cup, Map<String, String> charts) {
    if (cup.cups().isEmpty() && cup.scores().isEmpty()) {
      return;
    }
    html.heading("In the cup");
    if (charts.containsKey("cup")) {
      html.chart(charts.get("cup"));
      html.faint(
          "Bars are expanded uncertainties (k = 2). The region is that of the Golden Cup Standard,"
              + " 23 December 2015: 1.15 to 1.35 %, 18 to 22 %.");
    }
    if (!cup.cups().isEmpty()) {
      html.startTable("", "nnnw", "run", "strength, %", "extraction, %", "against the region");
      for (CupReview.Cup each : cup.cups()) {
        Extraction extraction = each.extraction();
        html.row(
            String.valueOf(each.run()),
            Phrases.strength(extraction),
            Phrases.extracted(extraction),
            Phrases.place(extraction));
      }
      html.endTable();
    }
    if (!cup.scores().isEmpty()) {
      html.startTable("", "wnn", "tasted", "runs", "score");
      for (CupReview.Score score : cup.scores()) {
        html.row(
            score.item(), String.valueOf(score.series().size()), Phrases.mean(score.series(), 1));
      }
      html.endTable();
    }
    Phrases.links(cup).forEach(html::text);
  }

  private static void runs(Html html, PlanReview review, ZoneId zone) {
    html.heading("The runs");
    html.startTable("small", "nwwnww", "run", "when", "feedback", "index", "inside", "note");
    int pours = review.plan().pours().size();
    for (Run run : review.runs()) {
      long inside =
          run.comparison().pours().stream()
              .filter(pour -> pour.verdict() == pourwright.compare.Verdict.INSIDE)
              .count();
      html.row(
          String.valueOf(run.id()),
          Phrases.moment(run.at(), zone),
          Phrases.feedback(run.feedback()),
          Phrases.plain(run.comparison().deviationIndex(), 2),
          inside + " of " + pours,
          run.note());
    }
    html.endTable();
  }
}
