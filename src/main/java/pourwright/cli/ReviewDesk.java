package pourwright.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.time.DateTimeException;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import pourwright.coach.Feedback;
import pourwright.journal.JournalFile;
import pourwright.journal.KeptRun;
import pourwright.journal.RunEntry;
import pourwright.journal.RunFilter;
import pourwright.report.Figures;
import pourwright.report.Paper;
import pourwright.report.PeriodSheet;
import pourwright.report.RunSheet;
import pourwright.review.Extraction;
import pourwright.review.PlanReview;
import pourwright.review.Run;
import pourwright.web.Answer;
import pourwright.web.Desk;
import pourwright.web.Question;

/** Answers the review page. */
final class ReviewDesk implements Desk {
  private static final String HERE = "/api/v1/review";
  private static final String PDF = "application/pdf";

  /** The page lists so many runs; whoever looks for older ones narrows the search. */
  private static final int MOST_LISTED = 300;

  private final JournalFile journal;
  private final ZoneId zone;

  ReviewDesk(JournalFile journal, ZoneId zone) {
    this.journal = journal;
    this.zone = zone;
  }

  @Override
  public Optional<Answer> answer(Question question) {
    if (!question.isRead() || !question.path().startsWith(HERE)) {
      return Optional.empty();
    }
    try {
      return switch (question.path()) {
        case HERE + "/runs" -> Optional.of(runs(filter(question)));
        case HERE + "/plan" -> Optional.of(plan(question, false));
        case HERE + "/plan.pdf" -> Optional.of(plan(question, true));
        case HERE + "/run" -> Optional.of(run(question, false));
        case HERE + "/run.pdf" -> Optional.of(run(question, true));
        default -> Optional.empty();
      };
    } catch (IllegalArgumentException | DateTimeException wrong) {
      return Optional.of(Answer.no(400, "That cannot be asked: " + wrong.getMessage()));
    } catch (IOException unreadable) {
      return Optional.of(Answer.no(500, String.valueOf(unreadable.getMessage())));
    }
  }

  private RunFilter filter(Question question) {
    return new RunQuery(
            question.findParameter("plan"),
            question.findParameter("brewer"),
            question.findParameter("feedback").map(ReviewDesk::feedback),
            question.findParameter("from").map(LocalDate::parse),
            question.findParameter("until").map(LocalDate::parse),
            question.findParameter("text"))
        .finished(zone);
  }

  private static Feedback feedback(String word) {
    return Feedback.findByWord(word)
        .orElseThrow(() -> new IllegalArgumentException("no feedback is called " + word));
  }

  private Answer runs(RunFilter filter) throws IOException {
    List<RunEntry> entries = journal.listRuns(filter.limit(MOST_LISTED + 1));
    ObjectNode node = ReviewJson.document();
    node.put("more", entries.size() > MOST_LISTED);
    node.set(
        "runs",
        ReviewJson.array(entries.stream().limit(MOST_LISTED).map(ReviewJson::entry).toList()));
    ArrayNode plans = node.putArray("plans");
    journal.listRuns(RunFilter.all().finished()).stream()
        .flatMap(entry -> entry.title().stream())
        .distinct()
        .forEach(plans::add);
    return Answer.json(node.toString());
  }

  private Answer plan(Question question, boolean isPrinted) throws IOException {
    Reviewed reviewed = Reviewed.of(journal, filter(question));
    if (reviewed.reviews().isEmpty()) {
      return Answer.no(404, "No run that counts and was held against a plan fits that.");
    }
    int which = question.findParameter("review").map(Integer::parseInt).orElse(0);
    if (which < 0 || which >= reviewed.reviews().size()) {
      return Answer.no(404, "There is no such review.");
    }
    PlanReview review = reviewed.reviews().get(which);
    Map<String, String> charts = Figures.of(review, reviewed.poured(journal, review));
    if (isPrinted) {
      return Answer.file(
          PDF,
          "review.pdf",
          Paper.pdf(PeriodSheet.of(List.of(new PeriodSheet.Part(review, charts)), zone)));
    }
    ObjectNode node = ReviewJson.document();
    ArrayNode names = node.putArray("reviews");
    for (PlanReview each : reviewed.reviews()) {
      ObjectNode name = names.addObject();
      name.put("plan", each.plan().title());
      name.put("runs", each.runs().size());
      name.put("simulated", each.isSimulated());
    }
    node.put("void_runs", reviewed.voids());
    node.put("runs_without_plan", reviewed.free());
    node.set("review", ReviewJson.review(review));
    ObjectNode drawn = node.putObject("charts");
    charts.forEach(drawn::put);
    return Answer.json(node.toString());
  }

  private Answer run(Question question, boolean isPrinted) throws IOException {
    long id = question.findParameter("run").map(Long::parseLong).orElse(0L);
    Optional<KeptRun> found = journal.findRun(id);
    if (found.isEmpty()) {
      return Answer.no(404, "There is no run " + id + " in the journal.");
    }
    KeptRun kept = found.get();
    Optional<Run> reviewed = Reviewed.run(kept);
    Optional<Figures.Poured> poured = Reviewed.poured(journal, kept);
    Optional<String> corridor =
        reviewed.flatMap(
            run -> poured.map(curve -> Figures.corridor(run.plan(), List.of(curve), run.id())));
    if (isPrinted) {
      return reviewed
          .map(
              run ->
                  Answer.file(
                      PDF,
                      "run-" + id + ".pdf",
                      Paper.pdf(RunSheet.of(run, corridor, Extraction.of(run), zone))))
          .orElseGet(() -> Answer.no(404, "Run " + id + " was held against no plan."));
    }
    ObjectNode node = ReviewJson.document();
    node.setAll(ReviewJson.entry(kept.entry()));
    node.set("judged", reviewed.map(ReviewJson::judged).orElse(null));
    node.set("cup", reviewed.flatMap(Extraction::of).map(ReviewJson::extraction).orElse(null));
    node.put("corridor", corridor.orElse(null));
    return Answer.json(node.toString());
  }
}
