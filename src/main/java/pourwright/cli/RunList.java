package pourwright.cli;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.PrintWriter;
import java.time.ZoneId;
import java.util.List;
import java.util.Locale;
import pourwright.journal.RunEntry;
import pourwright.report.Phrases;

/** Runs, a line each. */
final class RunList {
  private RunList() {}

  static void print(List<RunEntry> entries, Format format, PrintWriter out, ZoneId zone) {
    if (format == Format.JSON) {
      ObjectNode node = ReviewJson.document();
      node.set("runs", ReviewJson.array(entries.stream().map(ReviewJson::entry).toList()));
      out.println(Json.pretty(node));
      out.flush();
      return;
    }
    if (entries.isEmpty()) {
      out.println("No runs: none is in the journal, or none fits what you asked for.");
    } else {
      out.println(
          String.format(
              Locale.ROOT,
              "%5s  %-19s  %-28s  %-17s  %6s  %5s",
              "run",
              "when",
              "plan",
              "feedback",
              "inside",
              "index"));
    }
    for (RunEntry entry : entries) {
      out.println(line(entry, zone).stripTrailing());
    }
    out.flush();
  }

  private static String line(RunEntry entry, ZoneId zone) {
    return String.format(
        Locale.ROOT,
        "%5d  %-19s  %-28s  %-17s  %6s  %5s  %s%s%s",
        entry.id(),
        Phrases.moment(entry.startedAt(), zone),
        entry.title().orElse("free run"),
        Phrases.feedback(entry.feedback()),
        entry.inside().isPresent() && entry.planned().isPresent()
            ? entry.inside().getAsInt() + "/" + entry.planned().getAsInt()
            : "-",
        entry.deviationIndex().isPresent()
            ? Phrases.plain(entry.deviationIndex().getAsDouble(), 2)
            : "-",
        entry.isVoid() ? "void  " : "",
        entry.isSimulated() ? "simulated  " : "",
        entry.note().lines().findFirst().orElse(""));
  }
}
