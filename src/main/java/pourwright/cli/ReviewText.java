package pourwright.cli;

import java.time.ZoneId;
import java.util.Locale;
import pourwright.report.Phrases;
import pourwright.review.Cost;
import pourwright.review.CupReview;
import pourwright.review.Difference;
import pourwright.review.Extraction;
import pourwright.review.FeedbackReview;
import pourwright.review.Habit;
import pourwright.review.PlanReview;
import pourwright.review.PourReview;

/** A review as a person reads it in the terminal. */
final class ReviewText {
  private static final int MOST_COSTS = 5;
  private final StringBuilder text = new StringBuilder();

  private ReviewText() {}

  static String of(PlanReview review, ZoneId zone) {
    ReviewText written = new ReviewText();
    written.head(review, zone);
    written.readiness(review);
    written.pours(review);
    written.costs(review);
    written.feedback(review.feedback());
    written.cup(review.cup());
    return written.text.toString();
  }

  static String of(Difference difference, String first, String second) {
    ReviewText written = new ReviewText();
    written.line(
        "%s (%s) against %s (%s)",
        first,
        Phrases.runs(difference.first().size()),
        second,
        Phrases.runs(difference.second().size()));
    difference
        .lines()
        .forEach(line -> written.line("  %s", Phrases.difference(line, first, second)));
    return written.text.toString();
  }

  private void line(String pattern, Object... values) {
    text.append(String.format(Locale.ROOT, pattern, values).stripTrailing()).append('\n');
  }

  private void head(PlanReview review, ZoneId zone) {
    String from = Phrases.day(review.runs().get(0).at(), zone);
    String to = Phrases.day(review.last().at(), zone);
    line("%s", review.plan().title());
    line(
        "%s, %s%s",
        Phrases.runs(review.runs().size()),
        from.equals(to) ? from : from + " to " + to,
        review.isSimulated() ? ", simulated" : "");
    line("");
    review
        .lesson()
        .ifPresentOrElse(
            lesson -> {
              line("%s", lesson.sentence());
              line("  %s", lesson.evidence());
            },
            () -> line("Nothing was off."));
  }

  private void readiness(PlanReview review) {
    line("");
    line("%s", review.readiness().sentence());
    line("  %s", Phrases.coming(review.readiness()));
    line("  %s", Phrases.weakest(review.readiness()));
  }

  private void pours(PlanReview review) {
    line("");
    line(
        "%-4s  %-9s  %-22s  %-19s  %-23s  %5s  %s",
        "pour", "error", "bias (95 %)", "scatter (95 %)", "within (95 %)", "Cpk", "trend");
    for (PourReview pour : review.pours()) {
      for (Habit habit : pour.habits()) {
        line(
            "%4d  %-9s  %-22s  %-19s  %-23s  %5s  %s",
            pour.pour(),
            Phrases.kind(habit.kind()),
            Phrases.bias(habit.errors()),
            Phrases.spread(habit.errors(), 1),
            habit.within().map(Phrases::share).orElse("–"),
            habit.capability().map(fit -> Phrases.plain(fit.cpk(), 2)).orElse("–"),
            Phrases.direction(habit.errors(), "")
                + (habit.errors().outliers().isEmpty()
                    ? ""
                    : "; apart: run " + list(habit.errors().outliers())));
      }
    }
    line("");
    line(
        "deviation index %s, %s",
        Phrases.mean(review.index(), 2), Phrases.direction(review.index(), ""));
  }

  private static String list(Iterable<Long> runs) {
    StringBuilder list = new StringBuilder();
    runs.forEach(run -> list.append(list.isEmpty() ? "" : ", ").append(run));
    return list.toString();
  }

  private void costs(PlanReview review) {
    if (review.costs().isEmpty()) {
      return;
    }
    line("");
    line("what the deviation comes from");
    for (Cost cost : review.costs().subList(0, Math.min(MOST_COSTS, review.costs().size()))) {
      line("  %5s  %s", Phrases.percent(cost.part()), Phrases.cost(cost));
    }
  }

  private void feedback(FeedbackReview feedback) {
    line("");
    line("%-18s  %4s  %s", "feedback", "runs", "deviation index (95 %)");
    for (FeedbackReview.Kind kind : feedback.kinds()) {
      line(
          "%-18s  %4d  %s",
          Phrases.feedback(kind.feedback()), kind.index().size(), Phrases.mean(kind.index(), 2));
    }
    line("  %s", Phrases.retention(feedback.retention()));
    line("  %s", Phrases.guesses(feedback.guesses()));
  }

  private void cup(CupReview cup) {
    if (cup.cups().isEmpty() && cup.scores().isEmpty()) {
      return;
    }
    line("");
    line(
        "%4s  %-13s  %-20s  %s",
        "run", "strength, %", "extraction, %", "against 1.15-1.35 %, 18-22 %");
    for (CupReview.Cup each : cup.cups()) {
      Extraction extraction = each.extraction();
      line(
          "%4d  %-13s  %-20s  %s",
          each.run(),
          Phrases.strength(extraction),
          Phrases.extracted(extraction),
          Phrases.place(extraction));
    }
    for (CupReview.Score score : cup.scores()) {
      line("  %-11s  %s", score.item(), Phrases.mean(score.series(), 1));
    }
    Phrases.links(cup).forEach(said -> line("  %s", said));
  }
}
