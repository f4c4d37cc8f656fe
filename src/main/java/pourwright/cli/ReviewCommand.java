package pourwright.cli;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;
import pourwright.journal.JournalFile;
import pourwright.journal.KeptRun;
import pourwright.report.Figures;
import pourwright.report.Paper;
import pourwright.report.PeriodSheet;
import pourwright.report.Phrases;
import pourwright.report.Picture;
import pourwright.report.RunSheet;
import pourwright.review.Difference;
import pourwright.review.Extraction;
import pourwright.review.PlanReview;
import pourwright.review.Run;

/** What the runs in the journal say together. */
@Command(
    name = "review",
    versionProvider = Main.Version.class,
    mixinStandardHelpOptions = true,
    usageHelpAutoWidth = true,
    header = "Review kept runs: what to practise next, and whether you are ready.",
    description = {
      "",
      "Plans are reviewed one by one; a plan that was changed is another plan. Void and deleted runs"
          + " do not count, and simulated ones are never mixed with real ones.",
      ""
    },
    sortOptions = false)
final class ReviewCommand implements Callable<Integer> {
  private static final int ENLARGED = 2;

  @Parameters(paramLabel = "RUN", arity = "0..1", description = "One run only, by its number.")
  private @Nullable Long run;

  @Mixin private RunChoice choice = new RunChoice();

  @Option(
      names = "--against",
      paramLabel = "TITLE",
      description = "Hold the plan of --plan against this other one.")
  private @Nullable String against;

  @Option(
      names = "--split",
      paramLabel = "DAY",
      description = "Hold the runs from this day on against those before it.")
  private @Nullable LocalDate split;

  @Option(names = "--list", description = "Only list the runs.")
  private boolean isList;

  @Option(names = "--pdf", paramLabel = "FILE", description = "Print the review, or RUN, as a PDF.")
  private @Nullable Path pdf;

  @Option(
      names = "--chart",
      paramLabel = "DIR",
      description = "Write each chart into this folder, as SVG and as PNG.")
  private @Nullable Path chart;

  @Option(names = "--page", description = "Show the review in a browser until Ctrl-C.")
  private boolean isPage;

  @Option(
      names = "--format",
      paramLabel = "FORMAT",
      defaultValue = "text",
      description = "text or json.")
  private Format format = Format.TEXT;

  @Mixin private OpenJournal opener = new OpenJournal();

  @Mixin private PageOptions page = new PageOptions();

  @Spec private @Nullable CommandSpec spec;

  private final ZoneId zone = ZoneId.systemDefault();

  @Override
  public Integer call() throws Failure, InterruptedException {
    RunQuery query = choice.query();
    if (choice.isBackward()) {
      throw misuse("--until lies before --from");
    }
    if (against != null && choice.plan().isEmpty()) {
      throw misuse("--against needs the other plan in --plan");
    }
    PrintWriter err = commandLine().getErr();
    try (JournalFile journal = opener.open(err)) {
      if (isPage) {
        LocalPage.stay(page, journal, "review", err);
      } else if (run != null) {
        reviewRun(journal, run);
      } else {
        reviewAll(journal, query);
      }
    } catch (IOException unreadable) {
      throw Failure.of(unreadable);
    }
    return CommandLine.ExitCode.OK;
  }

  private void reviewRun(JournalFile journal, long id) throws Failure, IOException {
    KeptRun kept =
        journal
            .findRun(id)
            .orElseThrow(() -> new Failure("there is no run " + id + " in the journal"));
    Optional<Run> reviewed = Reviewed.run(kept);
    Optional<Figures.Poured> poured = Reviewed.poured(journal, kept);
    Optional<String> corridor =
        reviewed.flatMap(
            each -> poured.map(curve -> Figures.corridor(each.plan(), List.of(curve), each.id())));
    if (pdf != null) {
      Run printed =
          reviewed.orElseThrow(
              () ->
                  new Failure("run " + id + " has no plan to be held against, or is no more read"));
      write(pdf, Paper.pdf(RunSheet.of(printed, corridor, Extraction.of(printed), zone)));
    }
    if (chart != null) {
      writeCharts(
          chart, corridor.map(svg -> Map.of("corridor", svg)).orElse(Map.of()), "run-" + id);
    }
    PrintWriter out = commandLine().getOut();
    if (format == Format.JSON) {
      ObjectNode node = ReviewJson.document();
      node.setAll(ReviewJson.entry(kept.entry()));
      reviewed.ifPresent(each -> node.set("judged", ReviewJson.judged(each)));
      node.set(
          "in_the_cup", reviewed.flatMap(Extraction::of).map(ReviewJson::extraction).orElse(null));
      print(node);
      return;
    }
    out.println(
        kept.entry().title().orElse("free run")
            + ", run "
            + id
            + ", "
            + Phrases.moment(kept.entry().startedAt(), zone)
            + (kept.entry().isSimulated() ? ", simulated" : "")
            + (kept.entry().isVoid() ? ", void" : ""));
    kept.judgement()
        .ifPresent(made -> out.print(ResultText.of(made.findings(), made.comparison())));
    reviewed
        .flatMap(Extraction::of)
        .ifPresent(
            cup ->
                out.println(
                    "strength "
                        + Phrases.strength(cup)
                        + " %, extraction "
                        + Phrases.extracted(cup)
                        + " % ("
                        + Phrases.place(cup)
                        + ")"));
    if (!kept.entry().note().isBlank()) {
      out.println("note: " + kept.entry().note());
    }
    out.flush();
  }

  private void reviewAll(JournalFile journal, RunQuery query) throws Failure, IOException {
    if (isList) {
      RunList.print(journal.listRuns(query.finished(zone)), format, commandLine().getOut(), zone);
      return;
    }
    Reviewed reviewed = Reviewed.of(journal, query.finished(zone));
    Optional<Split> groups = split(journal, query, reviewed);
    if (pdf != null || chart != null) {
      printCharts(journal, reviewed);
    }
    if (format == Format.JSON) {
      ObjectNode node = ReviewJson.document();
      node.put("void_runs", reviewed.voids());
      node.put("runs_without_plan", reviewed.free());
      node.set(
          "reviews",
          ReviewJson.array(reviewed.reviews().stream().map(ReviewJson::review).toList()));
      groups.ifPresent(
          two ->
              node.set(
                  "difference",
                  ReviewJson.difference(two.difference(), two.first(), two.second())));
      print(node);
      return;
    }
    PrintWriter out = commandLine().getOut();
    if (reviewed.reviews().isEmpty()) {
      out.println("No runs to review: " + none(reviewed));
    }
    boolean isFirst = true;
    for (PlanReview review : reviewed.reviews()) {
      if (!isFirst) {
        out.println();
        out.println();
      }
      isFirst = false;
      out.print(ReviewText.of(review, zone));
    }
    groups.ifPresent(
        two -> {
          out.println();
          out.print(ReviewText.of(two.difference(), two.first(), two.second()));
        });
    if (!reviewed.reviews().isEmpty() && reviewed.voids() + reviewed.free() > 0) {
      out.println();
      out.println(
          "Left out: " + reviewed.voids() + " void, " + reviewed.free() + " without a plan.");
    }
    out.flush();
  }

  private static String none(Reviewed reviewed) {
    if (reviewed.kept().isEmpty()) {
      return "none is in the journal, or none fits what you asked for.";
    }
    return reviewed.voids() + " are void, " + reviewed.free() + " have no plan.";
  }

  /** Two groups of runs and what differs. */
  private record Split(String first, String second, Difference difference) {}

  private Optional<Split> split(JournalFile journal, RunQuery query, Reviewed reviewed)
      throws IOException {
    if (against != null) {
      List<Run> others = Reviewed.of(journal, query.titled(against).finished(zone)).runs();
      return Optional.of(
          new Split(choice.plan().orElseThrow(), against, Difference.of(reviewed.runs(), others)));
    }
    if (split != null) {
      Instant at = split.atStartOfDay(zone).toInstant();
      return Optional.of(
          new Split(
              "from " + split + " on",
              "before",
              Difference.of(
                  reviewed.runs().stream().filter(each -> !each.at().isBefore(at)).toList(),
                  reviewed.runs().stream().filter(each -> each.at().isBefore(at)).toList())));
    }
    return Optional.empty();
  }

  private void printCharts(JournalFile journal, Reviewed reviewed) throws Failure, IOException {
    if (reviewed.reviews().isEmpty()) {
      throw new Failure("there is nothing to print: " + none(reviewed));
    }
    List<PeriodSheet.Part> parts = new ArrayList<>();
    int number = 0;
    for (PlanReview review : reviewed.reviews()) {
      number++;
      Map<String, String> charts = Figures.of(review, reviewed.poured(journal, review));
      parts.add(new PeriodSheet.Part(review, charts));
      if (chart != null) {
        writeCharts(chart, charts, reviewed.reviews().size() == 1 ? "" : "plan-" + number);
      }
    }
    if (pdf != null) {
      write(pdf, Paper.pdf(PeriodSheet.of(parts, zone)));
    }
  }

  private void writeCharts(Path folder, Map<String, String> charts, String prefix)
      throws Failure, IOException {
    try {
      Files.createDirectories(folder);
    } catch (IOException refused) {
      throw Failure.of(folder.toString(), refused);
    }
    for (Map.Entry<String, String> each : charts.entrySet()) {
      String name = (prefix.isEmpty() ? "" : prefix + "-") + each.getKey();
      write(
          folder.resolve(name + ".svg"),
          each.getValue().getBytes(java.nio.charset.StandardCharsets.UTF_8));
      write(folder.resolve(name + ".png"), Picture.png(each.getValue(), ENLARGED));
    }
  }

  private void write(Path file, byte[] content) throws Failure {
    try {
      Files.write(file, content);
    } catch (IOException refused) {
      throw Failure.of(file.toString(), refused);
    }
    PrintWriter err = commandLine().getErr();
    err.println("written: " + file);
    err.flush();
  }

  private void print(ObjectNode node) {
    PrintWriter out = commandLine().getOut();
    out.println(Json.pretty(node));
    out.flush();
  }

  private CommandLine commandLine() {
    return Objects.requireNonNull(spec).commandLine();
  }

  private ParameterException misuse(String message) {
    return new ParameterException(commandLine(), message);
  }
}
