package pourwright.card;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import pourwright.plan.Plan;
import pourwright.plan.PlannedPour;
import pourwright.report.Sheet;
import pourwright.stage.Chore;
import pourwright.stage.Clock;
import pourwright.stage.EventRules;
import pourwright.stage.Job;
import pourwright.stage.StageFile;
import pourwright.stage.Station;
import pourwright.stage.Timetable;
import pourwright.stage.Totals;
import pourwright.units.Mass;
import pourwright.water.Water;

/**
 * The stage card: every pour as a running total with its clock time, what to say when, and what to
 * do when the scale dies.
 */
public final class StageCard {
  /** Water that stays in the grounds, per gram of coffee; common practice, no source. */
  private static final double KEPT_PER_GRAM = 2.0;

  /** Of plans that name no temperature (°C); common practice, no source. */
  private static final double COMMON_CELSIUS = 93;

  /** The sheet of paper. */
  public enum Size {
    /** In the hand or on the bench. */
    A5("A5", 9, 14.5, 12.5),
    /** Read from further off. */
    A4("A4", 14, 21, 17);

    private final String name;
    private final double marginMillimetres;
    private final double pourPoints;
    private final double restPoints;

    Size(String name, double marginMillimetres, double pourPoints, double restPoints) {
      this.name = name;
      this.marginMillimetres = marginMillimetres;
      this.pourPoints = pourPoints;
      this.restPoints = restPoints;
    }
  }

  private StageCard() {}

  /** The card of a timetable. */
  public static Sheet of(StageFile file, Timetable timetable, Size size) {
    StringBuilder body = new StringBuilder(8_192);
    body.append("<h1>").append(Sheet.escaped(file.title())).append("</h1>");
    body.append("<p class=\"lead\">Done by <b>")
        .append(Clock.words(timetable.endSeconds()))
        .append("</b>, limit <b>")
        .append(Clock.words(file.routine().limitSeconds()))
        .append("</b>. Figures: running total of that brewer.</p>");
    paragraph(body, "safety", Totals.SAFETY);
    clock(file, timetable, body);
    deadScale(file, timetable, body);
    water(file, body);
    paragraph(body, "faint", EventRules.CHECK);
    return new Sheet(file.title(), style(size), body.toString());
  }

  /** Chores of one brewer that follow each other stand on one line, so that pours stand out. */
  private record Line(Timetable.Slot first, List<String> words) {}

  private static List<Line> lines(Timetable timetable) {
    List<Line> lines = new ArrayList<>();
    for (Timetable.Slot slot : timetable.slots()) {
      Job job = slot.job();
      Line last = lines.isEmpty() ? null : lines.get(lines.size() - 1);
      boolean isChore = job.chore() != Chore.POUR && job.chore() != Chore.SPEAK;
      if (last != null
          && isChore
          && last.first().job().station() == job.station()
          && last.first().job().chore() != Chore.POUR
          && last.first().job().chore() != Chore.SPEAK) {
        last.words().add(job.words());
      } else {
        lines.add(new Line(slot, new ArrayList<>(List.of(job.words()))));
      }
    }
    return lines;
  }

  private static void clock(StageFile file, Timetable timetable, StringBuilder body) {
    Totals totals = Totals.of(timetable);
    body.append("<table class=\"clock\"><tbody>");
    for (Line line : lines(timetable)) {
      Job job = line.first().job();
      boolean isPour = job.chore() == Chore.POUR;
      boolean isSaid = job.chore() == Chore.SPEAK;
      body.append("<tr class=\"")
          .append(isPour ? "pour" : isSaid ? "say" : "chore")
          .append("\"><td class=\"at\">")
          .append(Clock.words(line.first().startSeconds()))
          .append("</td><td class=\"words who\">")
          .append(Sheet.escaped(who(file, job)))
          .append("</td><td class=\"words\">")
          .append(Sheet.escaped(isPour ? "pour " + job.pour() : said(line, isSaid)))
          .append("</td><td>");
      if (isPour) {
        body.append(grams(totals.after(job))).append(" g");
      }
      body.append("</td></tr>");
    }
    body.append("</tbody></table>");
  }

  private static String said(Line line, boolean isSaid) {
    String words = String.join(", ", line.words());
    return isSaid ? "“" + words + "” (" + line.first().job().seconds() + " s)" : words;
  }

  private static String who(StageFile file, Job job) {
    if (job.chore() == Chore.SPEAK) {
      return "say";
    }
    return job.station() == Job.NO_STATION
        ? "kettle"
        : file.routine().stations().get(job.station()).name();
  }

  /** A scale that shows nothing leaves the clock and the count. */
  private static void deadScale(StageFile file, Timetable timetable, StringBuilder body) {
    body.append("<h2>Scale dead? Pour by count</h2>");
    body.append("<table class=\"dead\"><thead><tr>")
        .append("<th class=\"words\">brewer</th><th>pour</th><th>from</th><th>count</th>")
        .append("<th>at</th><th>stop at</th><th>adds</th></tr></thead><tbody>");
    for (Timetable.Slot slot : timetable.slots()) {
      Job job = slot.job();
      if (job.chore() != Chore.POUR) {
        continue;
      }
      PlannedPour pour = planned(file, job);
      double count = pour.length().toNanos() / 1e9;
      body.append("<tr><td class=\"words\">")
          .append(Sheet.escaped(who(file, job)))
          .append("</td><td>")
          .append(job.pour())
          .append("</td><td>")
          .append(Clock.words(slot.startSeconds()))
          .append("</td><td><b>")
          .append(Math.round(count))
          .append("</b></td><td>")
          .append(String.format(Locale.ROOT, "%.1f g/s", pour.flow().gramsPerSecond()))
          .append("</td><td>")
          .append(Clock.words(slot.startSeconds() + (int) Math.round(count)))
          .append("</td><td>")
          .append(grams(pour.add().grams()))
          .append(" g</td></tr>");
    }
    body.append("</tbody></table>");
  }

  private static PlannedPour planned(StageFile file, Job job) {
    return file.routine().stations().get(job.station()).plan().pours().get(job.pour() - 1);
  }

  /** Masses as the volumes that jugs and rule books speak of; equal brewers stand together. */
  private static void water(StageFile file, StringBuilder body) {
    body.append("<h2>Water and cups</h2>");
    Map<String, List<String>> names = new LinkedHashMap<>();
    for (Station station : file.routine().stations()) {
      names
          .computeIfAbsent(volumes(station.plan(), file.rules()), plan -> new ArrayList<>())
          .add(station.name());
    }
    names.forEach((volumes, who) -> paragraph(body, "", String.join(", ", who) + ": " + volumes));
    EventRules rules = file.rules();
    int brewers = file.routine().stations().size();
    if (brewers < rules.cups()) {
      paragraph(
          body,
          "off",
          "◆ " + brewers + " brewers, and " + rules.cups() + " cups are asked for: share out");
    }
    if (file.routine().limitSeconds() != rules.limitSeconds()) {
      paragraph(
          body,
          "off",
          "◆ planned for "
              + Clock.words(file.routine().limitSeconds())
              + ", the event says "
              + Clock.words(rules.limitSeconds()));
    }
  }

  private static String volumes(Plan plan, EventRules rules) {
    double hot = plan.waterTemperatureCelsius().orElse(COMMON_CELSIUS);
    double cup = cupMillilitres(plan, rules);
    return String.format(
        Locale.ROOT,
        "%s g = %.0f mL at %s °C; into the server about %.0f mL at %s °C%s",
        grams(plan.water().grams()),
        Water.atCelsius(hot).millilitres(plan.water()),
        grams(hot),
        cup,
        grams(rules.servingCelsius()),
        cup < rules.leastMillilitres()
            ? " ◆ less than the " + rules.leastMillilitres() + " mL asked for"
            : ", " + rules.leastMillilitres() + " mL are asked for");
  }

  private static void paragraph(StringBuilder body, String kind, String text) {
    body.append("<p class=\"")
        .append(kind)
        .append("\">")
        .append(Sheet.escaped(text))
        .append("</p>");
  }

  /** What drips into the cup, as its volume when served (mL). */
  static double cupMillilitres(Plan plan, EventRules rules) {
    double kept = KEPT_PER_GRAM * plan.dose().grams();
    Mass beverage = Mass.ofGrams(Math.max(0, plan.water().grams() - kept));
    return Water.atCelsius(rules.servingCelsius()).millilitres(beverage);
  }

  private static String grams(double grams) {
    double tenths = Math.rint(grams * 10) / 10;
    return tenths == Math.rint(tenths)
        ? String.format(Locale.ROOT, "%.0f", tenths)
        : String.format(Locale.ROOT, "%.1f", tenths);
  }

  private static String style(Size size) {
    return String.format(
        Locale.ROOT,
        """
        @page { size: %s; margin: %.0fmm %.0fmm %.0fmm; }
        h1 { font-size: %.1fpt; }
        .clock td { padding: 0.9mm 1.2mm; font-size: %.1fpt; vertical-align: baseline; }
        .clock .at { width: 4em; text-align: right; font-weight: 700; white-space: nowrap; }
        .clock tr.pour td { font-size: %.1fpt; font-weight: 700; }
        .clock tr.chore td { border-bottom-color: #ddd5c1; }
        .clock tr.say td { background-color: #15181d; color: #ffffff; }
        .clock .who { padding-right: 3mm; white-space: nowrap; }
        .clock tr { page-break-inside: avoid; }
        .dead td, .dead th { padding: 0.5mm 1.2mm; font-size: %.1fpt; white-space: nowrap; }
        .off { font-weight: 700; }
        .lead { font-size: %.1fpt; }
        .safety { margin-bottom: 3mm; font-weight: 700; }
        """,
        size.name,
        size.marginMillimetres,
        size.marginMillimetres,
        size.marginMillimetres + 4,
        size.pourPoints + 4,
        size.restPoints,
        size.pourPoints,
        size.restPoints - 3,
        size.restPoints - 2);
  }
}
