package pourwright.cli;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.time.Duration;
import java.time.ZoneId;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import pourwright.exchange.SafeCell;
import pourwright.journal.JournalFile;
import pourwright.journal.RunEntry;
import pourwright.journal.RunFilter;

/** Lists kept runs. */
@Command(
    name = "list",
    versionProvider = Main.Version.class,
    mixinStandardHelpOptions = true,
    usageHelpAutoWidth = true,
    header = "List kept runs, the newest first.",
    sortOptions = false)
final class RunsListCommand extends JournalCommand {
  /** How the list is printed. */
  enum ListFormat {
    TEXT,
    JSON,
    CSV
  }

  @Mixin private RunChoice choice = new RunChoice();

  @Option(names = "--counting", description = "Leave out void and simulated runs.")
  private boolean isCounting;

  @Option(names = "--deleted", description = "Show the deleted runs instead.")
  private boolean isDeleted;

  @Option(
      names = "--limit",
      paramLabel = "COUNT",
      description = "At most so many; 0 for all. Default: 40 as text, else all.")
  private int limit = -1;

  @Option(
      names = "--format",
      paramLabel = "FORMAT",
      defaultValue = "text",
      description = "text, json or csv.")
  private ListFormat format = ListFormat.TEXT;

  private static final int USUAL_LIMIT = 40;
  private static final int TITLE_CHARACTERS = 28;
  private static final String CSV_HEADER =
      "run,started_at,title,brewer,rig,feedback,simulated,void,ended,length_s,pours,planned,inside,"
          + "deviation_index,strength_percent,note";

  @Override
  void act(JournalFile open) throws IOException {
    int most = limit >= 0 ? limit : format == ListFormat.TEXT ? USUAL_LIMIT : 0;
    RunFilter wanted = filter();
    List<RunEntry> runs = open.listRuns(most > 0 ? wanted.limit(most + 1) : wanted);
    boolean isMore = most > 0 && runs.size() > most;
    List<RunEntry> shown = isMore ? runs.subList(0, most) : runs;
    switch (format) {
      case TEXT -> print(shown, isMore);
      case JSON -> printJson(shown);
      case CSV -> printCsv(shown);
    }
  }

  private RunFilter filter() {
    RunFilter filter = choice.query().filter(RunFilter.all(), ZoneId.systemDefault());
    if (isCounting) {
      filter = filter.withoutVoid().withoutSimulated();
    }
    return isDeleted ? filter.onlyDeleted() : filter;
  }

  private void print(List<RunEntry> runs, boolean isMore) {
    if (runs.isEmpty()) {
      err().println("no runs; `pourwright rehearse` and `pourwright demo` make some");
      return;
    }
    out()
        .println(
            String.format(
                    Locale.ROOT,
                    "%5s  %-16s  %-28s  %-9s  %7s  %6s  %6s  %s",
                    "run",
                    "when",
                    "plan",
                    "feedback",
                    "inside",
                    "index",
                    "cup",
                    "")
                .stripTrailing());
    for (RunEntry run : runs) {
      out()
          .println(
              String.format(
                      Locale.ROOT,
                      "%5d  %-16s  %-28s  %-9s  %7s  %6s  %6s  %s",
                      run.id(),
                      OpenJournal.local(run.startedAt()),
                      cut(run.title().orElse("(no plan)")),
                      run.feedback().word(),
                      inside(run),
                      number("%.2f", run.deviationIndex()),
                      number("%.2f %%", run.strengthPercent()),
                      remarks(run))
                  .stripTrailing());
    }
    if (isMore) {
      err().println("there are more; see --limit and --search");
    }
  }

  private static String cut(String title) {
    String plain = title.replaceAll("\\p{Cntrl}", " ");
    return plain.length() <= TITLE_CHARACTERS
        ? plain
        : plain.substring(0, TITLE_CHARACTERS - 1) + "…";
  }

  private static String inside(RunEntry run) {
    return run.planned().isPresent() && run.inside().isPresent()
        ? run.inside().getAsInt() + " of " + run.planned().getAsInt()
        : run.pours() + " made";
  }

  private static String number(String pattern, OptionalDouble value) {
    return value.isPresent() ? String.format(Locale.ROOT, pattern, value.getAsDouble()) : "-";
  }

  private static String remarks(RunEntry run) {
    return Stream.of(
            Optional.of("void").filter(word -> run.isVoid()),
            Optional.of("simulated").filter(word -> run.isSimulated()),
            Optional.of("being recorded").filter(word -> run.state() == RunEntry.State.RECORDING),
            Optional.of("cut short").filter(word -> run.state() == RunEntry.State.CUT_SHORT),
            Optional.of(run.note().replaceAll("\\p{Cntrl}", " ")).filter(note -> !note.isBlank()))
        .flatMap(Optional::stream)
        .collect(Collectors.joining(", "));
  }

  private void printJson(List<RunEntry> runs) throws IOException {
    try (JsonGenerator json = Json.write(out())) {
      json.writeStartObject();
      json.writeNumberField("format", 1);
      json.writeArrayFieldStart("runs");
      for (RunEntry run : runs) {
        json.writeStartObject();
        RunHead.writeMembers(json, run);
        json.writeEndObject();
      }
      json.writeEndArray();
      json.writeEndObject();
      json.writeRaw('\n');
    }
  }

  private void printCsv(List<RunEntry> runs) {
    out().print(CSV_HEADER + "\r\n");
    for (RunEntry run : runs) {
      out()
          .print(
              Stream.of(
                          String.valueOf(run.id()),
                          run.startedAt().toString(),
                          SafeCell.of(run.title().orElse("")),
                          SafeCell.of(run.brewer()),
                          run.rig().word(),
                          run.feedback().word(),
                          run.isSimulated() ? "1" : "0",
                          run.isVoid() ? "1" : "0",
                          run.state().word(),
                          seconds(run.length()),
                          String.valueOf(run.pours()),
                          run.planned().isPresent() ? "" + run.planned().getAsInt() : "",
                          run.inside().isPresent() ? "" + run.inside().getAsInt() : "",
                          run.deviationIndex().isPresent()
                              ? String.format(
                                  Locale.ROOT, "%.3f", run.deviationIndex().getAsDouble())
                              : "",
                          run.strengthPercent().isPresent()
                              ? String.format(
                                  Locale.ROOT, "%.3f", run.strengthPercent().getAsDouble())
                              : "",
                          SafeCell.of(run.note()))
                      .collect(Collectors.joining(","))
                  + "\r\n");
    }
  }

  private static String seconds(Duration span) {
    return String.format(Locale.ROOT, "%.1f", span.toNanos() / 1e9);
  }
}
