package pourwright.report;

import java.time.ZoneId;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import pourwright.check.Change;
import pourwright.check.CheckRecord;
import pourwright.check.Figure;
import pourwright.check.Grade;
import pourwright.check.Verdict;

/** One check of a scale on one page, laid out like a certificate and saying that it is none. */
public final class CheckSheet {
  private static final String STYLE =
      """
      @page { margin: 12mm 16mm 14mm; }
      body { font-size: 8pt; line-height: 1.2; }
      h1 { font-size: 17pt; margin: 0 0 1mm; }
      h2 { margin: 3mm 0 1mm; font-size: 10pt; }
      th, td { padding: 0.3mm 1.2mm; }
      p { margin: 0 0 1mm; }
      .overall { font-size: 13pt; font-weight: 700; margin: 2mm 0 1mm; }
      .not-legal { border: 1pt solid #15181d; padding: 1.5mm 2.5mm; margin: 2mm 0 0; font-weight: 700; }
      .items td { padding: 0.5mm 1.2mm; } .items td:first-child { white-space: nowrap; font-weight: 700; }
      figure { margin: 1mm 0; }
      """;

  private CheckSheet() {}

  /**
   * Lays out a check.
   *
   * @param chart of the errors at each load, or empty where no known weight was used
   */
  public static Sheet of(
      CheckRecord check,
      Verdict verdict,
      List<Change> changes,
      Optional<String> chart,
      ZoneId zone) {
    Html html = new Html();
    html.title("User check of a scale");
    html.text(check.scale());
    html.faint(
        Phrases.moment(check.at(), zone)
            + ", "
            + check.length()
            + " check"
            + (check.isWhole() ? "" : ", ended early")
            + ", "
            + check.program());
    html.faint(
        check.weights().isEmpty()
            ? "No known weight was used."
            : "Used: " + String.join(", ", check.weights()) + ".");
    html.paragraph(
        "overall",
        verdict.overall().word().toUpperCase(Locale.ROOT) + " for " + verdict.demands().title());
    html.startTable("items", "www", "", "found", "to do");
    for (Verdict.Item item : verdict.items()) {
      html.row(item.name() + ": " + word(item.grade()), item.finding(), item.advice());
    }
    html.endTable();
    if (chart.isPresent()) {
      html.heading("Shown less true weight, and what class III allows in use (OIML R 76)");
      html.chart(chart.get());
    }
    html.heading("Figures, with 95 % intervals");
    html.startTable("", "wnnww", "", "value", "interval", "unit", "");
    for (Figure figure : check.figures()) {
      html.row(
          figure.name(), figure.valueText(), figure.intervalText(), figure.unit(), figure.note());
    }
    html.endTable();
    List<Change> real = changes.stream().filter(Change::isReal).toList();
    for (Change change : real) {
      html.text(
          "Changed since the check before: "
              + change.now().name()
              + " from "
              + change.before().valueText()
              + " to "
              + change.now().valueText()
              + " "
              + change.now().unit()
              + ".");
    }
    check.notes().forEach(html::faint);
    html.paragraph(
        "not-legal",
        "This is a user check, not a legal verification and no calibration certificate."
            + " Uncertainties after JCGM 100:2008 (GUM); weight tolerances after OIML R 111-1.");
    return new Sheet("User check of " + check.scale(), STYLE, html.body());
  }

  /** What is not good stands out by its capitals. */
  private static String word(Grade grade) {
    return grade == Grade.FAIL || grade == Grade.BORDERLINE
        ? grade.word().toUpperCase(Locale.ROOT)
        : grade.word();
  }
}
