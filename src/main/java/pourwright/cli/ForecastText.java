package pourwright.cli;

import java.util.List;
import java.util.Locale;
import pourwright.forecast.Estimate;
import pourwright.forecast.Experience;
import pourwright.forecast.Forecast;
import pourwright.forecast.Trouble;
import pourwright.units.SessionTime;

/** A forecast as lines of text. */
final class ForecastText {
  private ForecastText() {}

  static String of(Forecast forecast, Experience experience) {
    StringBuilder text = new StringBuilder();
    line(
        text,
        "%4s  %7s  %8s  %16s  %9s  %16s",
        "pour",
        "start",
        "total",
        "bed dry (about)",
        "slurry",
        "kettle");
    double total = 0;
    for (Forecast.Pour pour : forecast.pours()) {
      total += pour.poured().mass().grams();
      line(
          text,
          "%4d  %7s  %6.0f g  %16s  %6.0f mm  %7.0f g %4.1f °C",
          pour.index(),
          Words.clock(pour.poured().start()),
          total,
          pour.drained().map(ForecastText::span).orElse("not before next"),
          1_000 * pour.peakMetres(),
          Math.max(0, pour.kettleAtStart().mass().grams()),
          pour.kettleAtStart().celsius());
    }
    text.append('\n');
    line(
        text,
        "drain times   %s",
        forecast.isLearned()
            ? "learned from "
                + experience.bed().orElseThrow().listSightings().size()
                + " drained moments"
            : "a guess (60 g dry after 45 s, give or take half); weigh one on a split rig, or tell"
                + " one with --drained");
    line(
        text,
        "beverage      %s g, as the coffee keeps %s g of water per gram%s",
        shown(forecast.beverageGrams(), 1),
        shown(experience.keptPerGram(), 2),
        experience.runs() == 0 ? "" : " in " + runs(experience.runs()));
    forecast
        .extractionPercent()
        .ifPresent(
            asked ->
                line(
                    text,
                    "extraction    %s %% of the dose, for the %.2f %% aimed at",
                    shown(asked, 1),
                    forecast.plan().targetStrengthPercent().orElseThrow()));
    forecast
        .strengthPercent()
        .ifPresent(
            likely ->
                line(
                    text,
                    "strength      %s %%, as your past extraction of %s %% suggests",
                    shown(likely, 2),
                    shown(experience.extractionPercent().orElseThrow(), 1)));
    Forecast.Water water = forecast.water();
    line(
        text,
        "water in all  %.0f g: pours %.0f, rinse %.0f, stays in the kettle %.0f, vapour %.1f",
        water.total().grams(),
        water.pours().grams(),
        water.rinse().grams(),
        water.stays().grams(),
        water.evaporated().grams());
    text.append('\n').append(troubles(forecast.troubles()));
    return text.toString().stripTrailing();
  }

  static String troubles(List<Trouble> troubles) {
    if (troubles.isEmpty()) {
      return "Nothing stands in its way.\n";
    }
    StringBuilder text = new StringBuilder();
    for (Trouble trouble : troubles) {
      line(text, "pour %d: %s; %s", trouble.pour(), trouble.says(), trouble.fix());
    }
    return text.toString();
  }

  private static String runs(int count) {
    return count == 1 ? "one run" : count + " runs";
  }

  private static String span(Forecast.Span span) {
    return Words.clock(rounded(span.expected()))
        + " ("
        + Words.clock(rounded(span.early()))
        + "–"
        + Words.clock(rounded(span.late()))
        + ")";
  }

  private static SessionTime rounded(SessionTime at) {
    return SessionTime.ofSeconds(Math.rint(at.seconds()));
  }

  private static String shown(Estimate estimate, int digits) {
    return String.format(
        Locale.ROOT,
        "%." + digits + "f ± %." + digits + "f",
        estimate.value(),
        estimate.uncertainty());
  }

  private static void line(StringBuilder text, String format, Object... values) {
    text.append(String.format(Locale.ROOT, format, values)).append('\n');
  }
}
