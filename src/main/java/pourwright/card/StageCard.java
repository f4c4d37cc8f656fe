package pourwright.card;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import pourwright.plan.Plan;
import pourwright.plan.PlannedPour;
import pourwright.report.Paper;
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

  /** A last page with less on it is a nuisance; own choice. */
  private static final double LEAST_FILLED = 0.33;

  private static final double[] LARGER = {1.4, 1.25, 1.12};
  private static final double[] OTHERS = {0.95, 1.05, 1.1, 0.9, 1.15};

  /** From so many letters on a name may be broken between words. */
  private static final int LONG_NAME = 14;

  /** Before what needs to be seen to. */
  private static final String MARK = "! ";

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

  /**
   * The PDF of a card: as large as one page allows; where it takes more, so large that the last one
   * is not nearly empty.
   */
  public static byte[] pdf(StageFile file, Timetable timetable, Size size) {
    Paper.Printed usual = Paper.print(of(file, timetable, size, 1));
    boolean isOnePage = usual.pages() == 1 && !usual.isTooWide();
    if (!isOnePage && isWell(usual)) {
      return usual.pdf();
    }
    Paper.Printed best = usual;
    for (double scale : isOnePage ? LARGER : OTHERS) {
      Paper.Printed other = Paper.print(of(file, timetable, size, scale));
      if (other.pages() > usual.pages() || other.isTooWide()) {
        continue;
      }
      if (isWell(other)) {
        return other.pdf();
      }
      best = best.isTooWide() || other.lastFilled() > best.lastFilled() ? other : best;
    }
    return best.pdf();
  }

  private static boolean isWell(Paper.Printed card) {
    return !card.isTooWide() && (card.pages() == 1 || card.lastFilled() >= LEAST_FILLED);
  }

  /**
   * The card of a timetable.
   *
   * @param scale of the type; 1 is the usual size
   */
  static Sheet of(StageFile file, Timetable timetable, Size size, double scale) {
    StringBuilder body = new StringBuilder(8_192);
    body.append("<h1>").append(Sheet.escaped(file.title())).append("</h1>");
    body.append("<p class=\"lead\">Done by <b>")
        .append(Clock.words(timetable.endSeconds()))
        .append("</b>, limit <b>")
        .append(Clock.words(file.routine().limitSeconds()))
        .append("</b>. Total: all that this brewer has been poured.</p>");
    body.append("<p class=\"lead\"><b>Scale dead? Pour by count:</b> so many seconds at this flow,")
        .append(" until then.</p>");
    paragraph(body, "safety", Totals.SAFETY);
    clock(file, timetable, body);
    water(file, body);
    return new Sheet(file.title(), style(size, scale), body.toString());
  }

  /**
   * Chores of one brewer that follow each other stand on one line, so that pours stand out; so do
   * those of several brewers that have no moment of their own.
   */
  private record Line(Timetable.Slot first, List<String> words, List<String> brewers) {}

  private static List<Line> lines(StageFile file, Timetable timetable) {
    List<Line> lines = new ArrayList<>();
    for (Timetable.Slot slot : timetable.slots()) {
      Job job = slot.job();
      Line last = lines.isEmpty() ? null : lines.get(lines.size() - 1);
      if (last != null && isChore(job) && isChore(last.first().job())) {
        boolean isOneBrewer = last.brewers().size() == 1;
        if (isOneBrewer && last.first().job().station() == job.station()) {
          last.words().add(job.words());
          continue;
        }
        boolean isAnyTime = job.chore() == Chore.SERVE || job.chore() == Chore.CLEAN;
        if (isAnyTime && last.words().equals(List.of(job.words()))) {
          last.brewers().add(who(file, job));
          continue;
        }
      }
      lines.add(
          new Line(
              slot,
              new ArrayList<>(List.of(job.words())),
              new ArrayList<>(List.of(who(file, job)))));
    }
    return lines;
  }

  private static boolean isChore(Job job) {
    return job.chore() != Chore.POUR && job.chore() != Chore.SPEAK;
  }

  private static void clock(StageFile file, Timetable timetable, StringBuilder body) {
    Totals totals = Totals.of(timetable);
    body.append("<table class=\"clock\"><thead><tr><th class=\"at\">at</th>")
        .append("<th class=\"words\">brewer</th><th class=\"words\">do</th>")
        .append("<th>count</th><th>at</th><th>until</th><th>total</th></tr></thead><tbody>");
    for (Line line : lines(file, timetable)) {
      Job job = line.first().job();
      boolean isPour = job.chore() == Chore.POUR;
      boolean isSaid = job.chore() == Chore.SPEAK;
      body.append("<tr class=\"")
          .append(isPour ? "pour" : isSaid ? "say" : "chore")
          .append("\"><td class=\"at\">")
          .append(Clock.words(line.first().startSeconds()))
          .append("</td>");
      if (line.brewers().size() > 1) {
        body.append("<td class=\"words\" colspan=\"6\">")
            .append(Sheet.escaped(job.words() + ": " + String.join(", ", line.brewers())))
            .append("</td></tr>");
        continue;
      }
      String who = line.brewers().get(0);
      body.append("<td class=\"words who\"><div class=\"")
          .append(who.length() < LONG_NAME ? "short" : "long")
          .append("\">")
          .append(Sheet.escaped(who))
          .append("</div></td>");
      if (isPour) {
        body.append("<td class=\"words which\">pour ").append(job.pour()).append("</td>");
        byCount(file, line.first(), body);
        body.append("<td class=\"total\">").append(grams(totals.after(job))).append(" g</td>");
      } else {
        body.append("<td class=\"words\" colspan=\"5\">")
            .append(Sheet.escaped(said(line, isSaid)))
            .append("</td>");
      }
      body.append("</tr>");
    }
    body.append("</tbody></table>");
  }

  /** A scale that shows nothing leaves the count and the clock. */
  private static void byCount(StageFile file, Timetable.Slot slot, StringBuilder body) {
    PlannedPour pour = planned(file, slot.job());
    int count = (int) Math.round(pour.length().toNanos() / 1e9);
    for (String value :
        List.of(
            count + " s",
            grams(pour.flow().gramsPerSecond()) + " g/s",
            Clock.words(slot.startSeconds() + count))) {
      body.append("<td class=\"count\">").append(value).append("</td>");
    }
  }

  private static String said(Line line, boolean isSaid) {
    String words = String.join(", ", line.words());
    return isSaid ? "“" + words + "” (" + line.first().job().seconds() + "\u00a0s)" : words;
  }

  private static String who(StageFile file, Job job) {
    if (job.chore() == Chore.SPEAK) {
      return "say";
    }
    return job.station() == Job.NO_STATION
        ? "kettle"
        : file.routine().stations().get(job.station()).name();
  }

  private static PlannedPour planned(StageFile file, Job job) {
    return file.routine().stations().get(job.station()).plan().pours().get(job.pour() - 1);
  }

  /** Masses as the volumes that jugs and rule books speak of; equal brewers stand together. */
  private static void water(StageFile file, StringBuilder body) {
    body.append("<div class=\"water\"><h2>Water and cups</h2>");
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
          MARK
              + brewers
              + (brewers == 1 ? " brewer" : " brewers")
              + ", and "
              + rules.cups()
              + " cups are asked for: share out");
    }
    if (file.routine().limitSeconds() != rules.limitSeconds()) {
      paragraph(
          body,
          "off",
          MARK
              + "planned for "
              + Clock.words(file.routine().limitSeconds())
              + ", the event says "
              + Clock.words(rules.limitSeconds()));
    }
    paragraph(body, "faint", EventRules.CHECK);
    body.append("</div>");
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
            ? "; " + MARK + "less than the " + rules.leastMillilitres() + " mL asked for"
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

  private static String style(Size size, double scale) {
    double rest = scale * size.restPoints;
    return String.format(
        Locale.ROOT,
        """
        @page { size: %s; margin: %.0fmm %.0fmm %.0fmm; }
        body { font-size: %.1fpt; }
        h1 { font-size: %.1fpt; }
        h2 { margin-top: 4mm; font-size: %.1fpt; }
        .clock td { padding: 0.8mm 1.2mm; font-size: %.1fpt; vertical-align: baseline; }
        .clock th { padding: 0.4mm 1.2mm; font-size: %.1fpt; white-space: nowrap; }
        .clock td.at, .clock th.at { padding-left: 0; text-align: right; white-space: nowrap; }
        .clock td.at { font-weight: 700; }
        .clock tr.pour td { font-size: %.1fpt; font-weight: 700; }
        .clock tr.pour td.count { font-size: %.1fpt; font-weight: 400; }
        .clock td.who { padding-right: 2.5mm; }
        .clock .short, .clock td.which, .clock td.count, .clock td.total { white-space: nowrap; }
        .clock .long { width: 6.5em; }
        .clock td.which { width: 99%%; }
        .clock tr.chore td { border-bottom-color: #ddd5c1; }
        .clock tr.say td { background-color: #15181d; color: #ffffff; }
        .off { font-weight: 700; }
        .lead { margin-bottom: 0.5mm; }
        .safety { margin: 1.5mm 0 2mm; font-weight: 700; }
        .water { page-break-inside: avoid; }
        """,
        size.name,
        size.marginMillimetres,
        size.marginMillimetres,
        size.marginMillimetres + 4,
        rest - 2,
        rest + 6,
        rest,
        rest,
        rest - 4,
        scale * size.pourPoints,
        rest - 1);
  }
}
