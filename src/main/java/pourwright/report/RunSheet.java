package pourwright.report;

import java.time.ZoneId;
import java.util.Optional;
import pourwright.compare.Comparison;
import pourwright.review.Extraction;
import pourwright.review.Run;

/** One run, to print. */
public final class RunSheet {
  private static final String STYLE =
      ".say { font-size: 15pt; line-height: 1.2; font-weight: 700; margin: 4mm 0 1mm; }"
          + " .note { white-space: pre-wrap; }";
  private static final double NANOS_PER_SECOND = 1e9;

  private RunSheet() {}

  /**
   * Lays out a run.
   *
   * @param corridor chart, or empty when its pouring was not weighed
   * @param extraction empty without a strength reading
   */
  public static Sheet of(
      Run run, Optional<String> corridor, Optional<Extraction> extraction, ZoneId zone) {
    Html html = new Html();
    html.title(run.plan().title());
    html.faint(
        "Run "
            + run.id()
            + ", "
            + Phrases.moment(run.at(), zone)
            + (run.brewer().isBlank() ? "" : ", " + run.brewer())
            + ", "
            + Phrases.feedback(run.feedback())
            + (run.isSimulated() ? ", simulated" : ""));
    html.paragraph("say", verdict(run));
    corridor.ifPresent(html::chart);
    html.heading("Pours");
    html.startTable("", "wwnnnw", "pour", "verdict", "water, g", "start, s", "flow, g/s", "why");
    for (Comparison.JudgedPour pour : run.comparison().pours()) {
      html.row(
          pour.planned().isPresent() ? String.valueOf(pour.planned().getAsInt()) : "extra",
          pour.verdict().word(),
          Phrases.signed(pour.massError().grams(), 1),
          pour.placing()
              .map(placing -> Phrases.signed(placing.startError().toNanos() / NANOS_PER_SECOND, 1))
              .orElse("–"),
          pour.placing()
              .map(placing -> Phrases.signed(placing.flowError().gramsPerSecond(), 1))
              .orElse("–"),
          String.join(" ", pour.reasons()));
    }
    html.endTable();
    html.faint(
        "Errors are made minus planned. Tolerance: ±"
            + Phrases.plain(run.plan().tolerance().mass().grams(), 1)
            + " g, ±"
            + Phrases.plain(run.plan().tolerance().start().toNanos() / NANOS_PER_SECOND, 1)
            + " s, ±"
            + Phrases.plain(run.plan().tolerance().flow().gramsPerSecond(), 1)
            + " g/s.");
    extraction.ifPresent(
        cup -> {
          html.heading("In the cup");
          html.text(
              "Strength "
                  + Phrases.strength(cup)
                  + " %, extraction "
                  + Phrases.extracted(cup)
                  + (cup.percent().isPresent() ? " %: " + Phrases.place(cup) : "")
                  + ".");
        });
    if (!run.note().isBlank()) {
      html.heading("Note");
      html.paragraph("note", run.note());
    }
    return new Sheet(run.plan().title() + " – run " + run.id(), STYLE, html.body());
  }

  private static String verdict(Run run) {
    String index = "deviation index " + Phrases.plain(run.comparison().deviationIndex(), 2) + ".";
    if (run.isClean()) {
      return "All pours inside, " + index;
    }
    long off =
        run.comparison().pours().stream()
            .filter(pour -> pour.verdict() != pourwright.compare.Verdict.INSIDE)
            .count();
    return off + (off == 1 ? " pour" : " pours") + " not inside, " + index;
  }
}
