package pourwright.cli;

import java.io.IOException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import pourwright.compare.PouredCurve;
import pourwright.detect.Findings;
import pourwright.journal.JournalFile;
import pourwright.journal.KeptRun;
import pourwright.journal.RunFilter;
import pourwright.plan.Plan;
import pourwright.report.Figures;
import pourwright.review.PlanReview;
import pourwright.review.Run;
import pourwright.session.RunStart;

/**
 * Runs out of the journal, reviewed.
 *
 * @param kept all that were asked for, the oldest first
 * @param voids how many of them do not count
 * @param free how many have no plan to be held against
 * @param reviews by plan, the one rehearsed last first
 */
record Reviewed(List<KeptRun> kept, int voids, int free, List<PlanReview> reviews) {

  /** So many last runs are laid over each other; more are a smear, and slow. */
  private static final int MOST_TRACES = 30;

  static Reviewed of(JournalFile journal, RunFilter filter) throws IOException {
    List<KeptRun> kept = journal.listKept(filter);
    List<Run> runs = new ArrayList<>();
    int voids = 0;
    int free = 0;
    for (KeptRun each : kept) {
      Optional<Run> run = run(each);
      if (each.entry().isVoid()) {
        voids++;
      } else if (run.isEmpty()) {
        free++;
      } else {
        runs.add(run.get());
      }
    }
    return new Reviewed(kept, voids, free, PlanReview.listOf(runs));
  }

  /** Runs that count, of every plan. */
  List<Run> runs() {
    return reviews.stream().flatMap(review -> review.runs().stream()).toList();
  }

  /** A run as a review sees it; empty when it was held against no plan. */
  static Optional<Run> run(KeptRun kept) {
    Optional<Plan> plan = kept.plan().map(RunStart.WrittenPlan::plan);
    if (plan.isEmpty() || kept.judgement().isEmpty()) {
      return Optional.empty();
    }
    Findings findings = kept.judgement().get().findings();
    return kept.judgement()
        .get()
        .comparison()
        .map(
            comparison ->
                new Run(
                    kept.entry().id(),
                    kept.entry().startedAt(),
                    kept.entry().brewer(),
                    plan.get(),
                    kept.entry().feedback(),
                    kept.entry().isSimulated(),
                    comparison,
                    kept.estimates(),
                    new Run.Cup(
                        findings.lift().flatMap(Findings.Lift::beverage),
                        kept.strengths().stream()
                            .map(
                                reading ->
                                    new Run.StrengthReading(
                                        reading.percent(), reading.uncertaintyPercent()))
                            .toList(),
                        kept.tastings().stream().map(Reviewed::tasting).toList()),
                    kept.entry().note()));
  }

  private static Run.Tasting tasting(pourwright.journal.Tasting tasting) {
    Map<String, Double> scores = new HashMap<>();
    tasting.scores().forEach((item, score) -> scores.put(item.word(), score));
    return new Run.Tasting(scores);
  }

  /** What the scales saw of the last runs of a plan. */
  List<Figures.Poured> poured(JournalFile journal, PlanReview review) throws IOException {
    List<Run> runs = review.runs();
    List<Figures.Poured> poured = new ArrayList<>();
    for (Run run : runs.subList(Math.max(0, runs.size() - MOST_TRACES), runs.size())) {
      for (KeptRun each : kept) {
        if (each.entry().id() == run.id()) {
          poured(journal, each).ifPresent(poured::add);
        }
      }
    }
    return poured;
  }

  /** What the scales saw of one run; empty when nothing was poured, or only outflow was weighed. */
  static Optional<Figures.Poured> poured(JournalFile journal, KeptRun kept) throws IOException {
    if (kept.judgement().isEmpty() || kept.judgement().get().findings().pours().isEmpty()) {
      return Optional.empty();
    }
    Findings findings = kept.judgement().get().findings();
    PouredCurve curve = PouredCurve.of(findings, journal.curves(kept.entry().id()));
    List<Findings.Pour> pours = findings.pours();
    return Optional.of(
            new Figures.Poured(
                kept.entry().id(), curve, pours.get(0).start(), pours.get(pours.size() - 1).end()))
        .filter(Figures.Poured::isSeen);
  }
}
