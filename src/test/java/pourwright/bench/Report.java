package pourwright.bench;

import java.util.List;
import java.util.Locale;
import pourwright.bench.Tally.Count;
import pourwright.bench.Tally.Measure;

/** The bench table, for people and for programs. */
final class Report {
  private Report() {}

  /** Two lines per family: what was measured with its bound, and what is asked. */
  static String table(List<Tally> tallies) {
    StringBuilder out = new StringBuilder();
    line(
        out,
        "family",
        "pours",
        "live start [bound]",
        "live end [bound]",
        "wrong",
        "early",
        "start [bound]",
        "end [bound]",
        "mass [bound]",
        "wrong");
    for (Tally tally : tallies) {
      Target target = tally.family().target();
      line(
          out,
          tally.family().word(),
          Integer.toString(tally.number(Count.POURS)),
          measured(tally, Measure.LIVE_START, Measure.BOUND_LIVE_START),
          measured(tally, Measure.LIVE_END, Measure.BOUND_LIVE_END),
          number(tally.liveWrong()),
          Integer.toString(tally.number(Count.LIVE_EARLY)),
          measured(tally, Measure.START, Measure.BOUND_START),
          measured(tally, Measure.END, Measure.BOUND_END),
          measured(tally, Measure.MASS, Measure.BOUND_MASS),
          number(tally.wrong()));
      line(
          out,
          "",
          "asked",
          asked(tally, Measure.LIVE_START, target.liveStart()),
          asked(tally, Measure.LIVE_END, target.liveEnd()),
          asked(tally.liveWrong(), target.liveWrong()),
          "",
          asked(tally, Measure.START, target.start()),
          asked(tally, Measure.END, target.end()),
          asked(tally, Measure.MASS, target.mass()),
          asked(tally.wrong(), target.wrong()));
    }
    out.append('\n');
    out.append(
        String.format(
            Locale.ROOT,
            "%-10s %-15s %-9s %-15s %-15s %-8s %-17s %-9s%n",
            "family",
            "lift s",
            "missed+f",
            "removed g",
            "beverage g",
            "unknown",
            "drained s",
            "missed"));
    for (Tally tally : tallies) {
      out.append(
          String.format(
              Locale.ROOT,
              "%-10s %-15s %-9s %-15s %-15s %-8s %-17s %-9s%n",
              tally.family().word(),
              pair(tally.median(Measure.LIFT), tally.p95(Measure.LIFT)),
              tally.number(Count.LIFT_MISSED) + "+" + tally.number(Count.LIFT_FALSE),
              pair(tally.median(Measure.REMOVED), tally.p95(Measure.REMOVED)),
              pair(tally.median(Measure.BEVERAGE), tally.p95(Measure.BEVERAGE)),
              tally.number(Count.BEVERAGE_MISSED),
              pair(tally.median(Measure.DRAINED), tally.p95(Measure.DRAINED)),
              tally.number(Count.DRAINED_MISSED) + "/" + tally.number(Count.DRAINED_DUE)));
    }
    out.append("asked: lift 0.06 / 0.15 s, removed 0.1 g, beverage 0.15 g (medians); ");
    out.append("drained split 0.3 / 1.2 s, server 0.3 / 2.0 s, at most 2 % missed\n");
    return out.toString();
  }

  /** The recordings to look at. */
  static String worst(List<Tally> tallies, int most) {
    StringBuilder out = new StringBuilder();
    for (Tally tally : tallies) {
      for (Tally.Case bad : tally.listWorst(most)) {
        if (bad.badness() > 1) {
          out.append(
              String.format(
                  Locale.ROOT,
                  "%-10s seed %-6d %s%n",
                  tally.family().word(),
                  bad.seed(),
                  bad.why()));
        }
      }
    }
    return out.toString();
  }

  /** RFC 4180, one line per family and measure. */
  static String csv(List<Tally> tallies) {
    StringBuilder out = new StringBuilder("family,measure,unit,count,median,p95\r\n");
    for (Tally tally : tallies) {
      for (Measure measure : Measure.values()) {
        out.append(
            String.format(
                Locale.ROOT,
                "%s,%s,%s,%d,%.4f,%.4f\r\n",
                tally.family().word(),
                measure.words(),
                measure.unit(),
                tally.size(measure),
                tally.median(measure),
                tally.p95(measure)));
      }
      for (Count count : Count.values()) {
        out.append(
            String.format(
                Locale.ROOT,
                "%s,%s,,%d,,\r\n",
                tally.family().word(),
                count.name().toLowerCase(Locale.ROOT).replace('_', ' '),
                tally.number(count)));
      }
    }
    return out.toString();
  }

  /** RFC 4180, one line per pour found, errors with their signs. */
  static String sightings(List<Tally> tallies) {
    StringBuilder out =
        new StringBuilder("family,seed,pour,start_error_s,end_error_s,mass_error_g,about\r\n");
    for (Tally tally : tallies) {
      for (Tally.Sighting sighting : tally.listSightings()) {
        out.append(
            String.format(
                Locale.ROOT,
                "%s,%d,%d,%.3f,%.3f,%.3f,\"%s\"\r\n",
                tally.family().word(),
                sighting.seed(),
                sighting.pour(),
                sighting.startError(),
                sighting.endError(),
                sighting.massError(),
                sighting.about()));
      }
    }
    return out.toString();
  }

  private static void line(StringBuilder out, String... cells) {
    out.append(
        String.format(
                Locale.ROOT,
                "%-10s %5s  %-19s %-19s %-7s %-5s %-19s %-19s %-19s %-7s",
                (Object[]) cells)
            .stripTrailing());
    out.append('\n');
  }

  private static String measured(Tally tally, Measure measure, Measure bound) {
    return pair(tally.median(measure), tally.p95(measure))
        + " ["
        + bound(tally.median(bound))
        + "]";
  }

  private static String asked(Tally tally, Measure measure, Target.Spread target) {
    if (Double.isNaN(target.median())) {
      return "-";
    }
    boolean isReached =
        tally.median(measure) <= target.median() && tally.p95(measure) <= target.p95();
    return pair(target.median(), target.p95()) + (isReached ? " yes" : " NO");
  }

  private static String asked(double measured, double target) {
    if (Double.isNaN(target)) {
      return "-";
    }
    return String.format(Locale.ROOT, "%.0f %s", target, measured <= target ? "yes" : "NO");
  }

  private static String pair(double median, double p95) {
    return Double.isNaN(median) ? "-" : number(median) + "/" + number(p95);
  }

  private static String bound(double value) {
    return String.format(Locale.ROOT, value < 0.1 ? "%.3f" : "%.2f", value);
  }

  private static String number(double value) {
    return Double.isInfinite(value) ? "never" : String.format(Locale.ROOT, "%.2f", value);
  }
}
