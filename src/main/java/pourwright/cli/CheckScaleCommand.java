package pourwright.cli;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.jline.utils.Signals;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;
import pourwright.check.Appraisal;
import pourwright.check.Change;
import pourwright.check.CheckRecord;
import pourwright.check.Demands;
import pourwright.check.Kit;
import pourwright.check.Measured;
import pourwright.check.Programme;
import pourwright.check.TestLoad;
import pourwright.check.Thoroughness;
import pourwright.check.Verdict;
import pourwright.device.ScaleAddress;
import pourwright.device.SessionClock;
import pourwright.device.catalogue.Profiles;
import pourwright.history.CheckJson;
import pourwright.history.ScaleHistory;
import pourwright.journal.JournalFile;
import pourwright.record.DataFolder;

/** Is this scale good enough? */
@Command(
    name = "check-scale",
    versionProvider = Main.Version.class,
    mixinStandardHelpOptions = true,
    usageHelpAutoWidth = true,
    header = "Check a scale with test weights, or with any object, before an event.",
    description = {
      "",
      "Says what to put on and take off, sees when it is done, and finds noise, repeatability, true "
          + "weight, corners, drift, lag and how the link holds. With --plan it says whether that "
          + "is good enough for the plan. The lag found is used in rehearsals with this scale.",
      "",
      "A weight is named by size and class (200:M1, classes E2 F1 F2 M1) or by its mass and how well "
          + "that is known (312.4:0.1). Without any, what needs no known weight is still found.",
      "",
      "Use cold water only, keep it off the scale and off mains leads.",
      ""
    },
    sortOptions = false)
final class CheckScaleCommand implements Callable<Integer> {
  @Option(
      names = "--scale",
      paramLabel = "SCALE",
      required = true,
      description =
          "Where the scale is: serial:PORT?profile=NAME, ble:ADDRESS?profile=NAME, replay:FILE or "
              + "sim:NAME.")
  private String scale = "";

  @Option(
      names = "--weight",
      paramLabel = "MASS:CLASS",
      description = "A known weight, once for each: 200:M1, or 312.4:0.1 for 312.4 g ± 0.1 g.")
  private List<String> weights = new ArrayList<>();

  @Option(
      names = "--object",
      paramLabel = "WORDS",
      description = "A steady object of any mass of 50 g or more, where there is no weight.")
  private @Nullable String object;

  @Option(
      names = "--plan",
      paramLabel = "PLAN",
      description =
          "Say whether the scale is good enough for this plan (.yaml). Else for usual pours.")
  private @Nullable Path plan;

  @Option(
      names = "--length",
      paramLabel = "LENGTH",
      defaultValue = "usual",
      description =
          "quick (2 minutes: noise, repeatability, lag, loads), usual (5 minutes: corners, drift "
              + "and slow water too) or long (15 minutes, from cold). Default: usual.")
  private String length = "usual";

  @Option(
      names = "--pdf",
      paramLabel = "FILE",
      description = "Print the check on one page of paper (.pdf).")
  private @Nullable Path pdf;

  @Option(names = "--history", description = "Only list the checks of this scale that were kept.")
  private boolean isHistory;

  @Mixin private RunOptions options = new RunOptions();

  @Mixin private BluetoothOptions bluetooth = new BluetoothOptions();

  @Spec private @Nullable CommandSpec spec;

  @Override
  public Integer call() throws Failure, InterruptedException {
    CommandLine own = Objects.requireNonNull(spec).commandLine();
    ScaleAddress address;
    Kit kit;
    try {
      address = ScaleAddress.parse(scale);
      kit = kit();
    } catch (IllegalArgumentException wrong) {
      throw misuse(String.valueOf(wrong.getMessage()));
    }
    Thoroughness thoroughness =
        Thoroughness.findByWord(length)
            .orElseThrow(
                () -> misuse("--length must be quick, usual or long, not '" + length + "'"));
    Demands demands = plan == null ? Demands.COMMON : Demands.of(PlanFile.read(plan).plan());
    DataFolder data = options.data();
    Logs.into(data);
    Profiles profiles = Profiles.with(data.profiles());
    profiles.problems().forEach(problem -> own.getErr().println("note: " + problem));
    Connections connections =
        new Connections(
            profiles,
            SessionClock.start(),
            bluetooth,
            note -> own.getErr().println("note: " + note));
    ScaleHistory history = new ScaleHistory(data.scales());
    CheckedScale checked = connections.openForCheck(scale, address);
    try {
      String name = ScaleHistory.nameOf(scale, checked.placed().profile());
      if (isHistory) {
        list(history.list(name), own.getOut());
        return CommandLine.ExitCode.OK;
      }
      Job job = new Job(name, kit, thoroughness, demands, history);
      CheckDesk desk = new CheckDesk(history, ZoneId.systemDefault(), System::nanoTime);
      try (JournalFile journal = OpenJournal.in(data, own.getErr())) {
        Optional<LocalPage> page =
            LocalPage.open(options.page(), Desks.of(journal, desk), own.getErr());
        try {
          page.ifPresent(
              shown -> own.getErr().println("check: " + shown.address().resolve("/check")));
          own.getErr().flush();
          check(job, checked, desk);
        } finally {
          page.ifPresent(LocalPage::close);
        }
      }
      return CommandLine.ExitCode.OK;
    } finally {
      checked.placed().transport().close();
    }
  }

  /** What is to be done, and for what. */
  private record Job(
      String scale, Kit kit, Thoroughness thoroughness, Demands demands, ScaleHistory history) {}

  private void check(Job job, CheckedScale checked, CheckDesk desk)
      throws Failure, InterruptedException {
    CommandLine own = Objects.requireNonNull(spec).commandLine();
    CountDownLatch stopped = new CountDownLatch(1);
    for (String signal : List.of("INT", "TERM", "HUP")) {
      Signals.register(signal, stopped::countDown);
    }
    Instant began = Instant.now();
    Measured measured;
    try (CheckTalk talk = new CheckTalk(own.getErr(), checked.speed() > 0 && isTerminal())) {
      measured =
          new CheckRun(checked, Programme.of(job.kit(), job.thoroughness()), talk, desk::see)
              .run(() -> stopped.getCount() == 0);
    }
    if (!Appraisal.isPossible(measured)) {
      throw new Failure("the check ended before anything was measured; nothing was kept");
    }
    Appraisal appraisal = Appraisal.of(measured);
    CheckRecord record = record(began, job, measured, appraisal);
    List<Change> changes =
        job.history()
            .findLast(job.scale())
            .map(before -> Change.between(before, record))
            .orElse(List.of());
    CheckOutcome outcome =
        new CheckOutcome(
            record, Verdict.of(appraisal, job.demands()), changes, CheckOutcome.chart(appraisal));
    desk.conclude(outcome);
    Optional<Failure> unkept = keep(job.history(), record, own.getErr());
    say(own.getOut(), outcome);
    print(outcome, own.getErr());
    if (unkept.isPresent()) {
      throw unkept.get();
    }
    while (desk.isWatched() && !stopped.await(1, TimeUnit.SECONDS)) {
      // the page shows the result for as long as somebody looks at it
    }
  }

  private void print(CheckOutcome outcome, PrintWriter err) throws Failure {
    if (pdf == null) {
      return;
    }
    try {
      Files.write(pdf, outcome.pdf(ZoneId.systemDefault()));
      err.println("printed to " + pdf);
      err.flush();
    } catch (IOException failed) {
      throw Failure.of(pdf.toString(), failed);
    }
  }

  private Kit kit() {
    List<TestLoad> known = new ArrayList<>();
    for (String weight : weights) {
      known.add(TestLoad.parse(weight));
    }
    return new Kit(known, object == null ? Kit.ANY_OBJECT : TestLoad.unknown(object));
  }

  private ParameterException misuse(String message) {
    return new ParameterException(Objects.requireNonNull(spec).commandLine(), message);
  }

  /** Whether a line can be written over. */
  @SuppressWarnings(
      "SystemConsoleNull") // where newer Java answers one without a terminal, TERM tells
  private boolean isTerminal() {
    String kind = System.getenv("TERM");
    return !options.isByLine() && kind != null && !kind.equals("dumb") && System.console() != null;
  }

  private static CheckRecord record(
      Instant began, Job job, Measured measured, Appraisal appraisal) {
    return new CheckRecord(
        began,
        job.scale(),
        Main.Version.nameAndVersion(),
        job.thoroughness().word(),
        job.kit().weights().stream()
            .map(weight -> weight.name() + " (" + weight.known().orElseThrow().source() + ")")
            .toList(),
        measured.isWhole(),
        measured.losses(),
        measured.disturbances(),
        appraisal.figures(),
        appraisal.notes());
  }

  private static Optional<Failure> keep(ScaleHistory history, CheckRecord record, PrintWriter err) {
    try {
      err.println("kept in " + history.keep(record));
      err.flush();
      return Optional.empty();
    } catch (IOException refused) {
      return Optional.of(new Failure(String.valueOf(refused.getMessage()), refused));
    }
  }

  private void list(List<CheckRecord> checks, PrintWriter out) throws Failure {
    if (options.format() == Format.JSON) {
      try (JsonGenerator json = Json.write(out)) {
        json.writeStartObject();
        json.writeNumberField("format", 1);
        json.writeArrayFieldStart("checks");
        for (CheckRecord check : checks) {
          json.writeStartObject();
          CheckJson.writeMembers(json, check);
          json.writeEndObject();
        }
        json.writeEndArray();
        json.writeEndObject();
        json.writeRaw('\n');
      } catch (IOException failed) {
        throw new Failure("the result could not be written: " + failed.getMessage(), failed);
      }
    } else if (checks.isEmpty()) {
      out.println("No check of this scale is kept.");
    } else {
      checks.forEach(check -> out.println(CheckText.line(check)));
    }
    out.flush();
  }

  private void say(PrintWriter out, CheckOutcome outcome) throws Failure {
    if (options.format() == Format.JSON) {
      try (JsonGenerator json = Json.write(out)) {
        json.writeStartObject();
        outcome.writeMembers(json);
        json.writeEndObject();
        json.writeRaw('\n');
      } catch (IOException failed) {
        throw new Failure("the result could not be written: " + failed.getMessage(), failed);
      }
    } else {
      out.print(outcome.text());
    }
    out.flush();
  }
}
