package pourwright.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;
import pourwright.forecast.Experience;
import pourwright.forecast.Forecast;
import pourwright.forecast.Kit;
import pourwright.forecast.Trouble;
import pourwright.journal.JournalFile;
import pourwright.plan.Plan;
import pourwright.plan.PlanProblem;
import pourwright.plan.PlanReader;
import pourwright.plan.PlanReading;
import pourwright.plan.Schedule;

/** What can be done with plan files. */
@Command(
    name = "plan",
    versionProvider = Main.Version.class,
    mixinStandardHelpOptions = true,
    usageHelpAutoWidth = true,
    header = "Build, check and foresee plans.",
    subcommands = {
      PlanBuildCommand.class,
      PlanCommand.Check.class,
      PlanPredictCommand.class,
      PlanCommand.Page.class
    },
    synopsisSubcommandLabel = "COMMAND")
final class PlanCommand implements Runnable {
  @Spec private @Nullable CommandSpec spec;

  @Override
  public void run() {
    CommandSpec own = spec;
    if (own != null) {
      throw new ParameterException(
          own.commandLine(),
          "say what to do: plan build, plan check FILE, plan predict FILE, plan page");
    }
  }

  /** Says everything that is wrong or unusual in a plan. */
  @Command(
      name = "check",
      versionProvider = Main.Version.class,
      mixinStandardHelpOptions = true,
      usageHelpAutoWidth = true,
      header = "Say everything that is wrong or unusual in a plan, and show its schedule.")
  static final class Check implements Callable<Integer> {
    @Parameters(paramLabel = "FILE", description = "The plan (YAML).")
    private Path file = Path.of("");

    @Mixin private KitOptions kit = new KitOptions();

    @Spec private @Nullable CommandSpec spec;

    @Override
    public Integer call() throws Failure {
      CommandSpec own = Objects.requireNonNull(spec);
      PrintWriter out = own.commandLine().getOut();
      PrintWriter err = own.commandLine().getErr();
      Kit made = kit.kit(own.commandLine());
      PlanReading reading = PlanReader.read(PlanFile.textOf(file), file.toString());
      List<PlanProblem> problems =
          reading instanceof PlanReading.Understood understood
              ? understood.warnings()
              : ((PlanReading.Refused) reading).problems();
      for (PlanProblem problem : problems) {
        boolean isError = problem.severity() == PlanProblem.Severity.ERROR;
        err.println((isError ? "" : "note: ") + problem);
      }
      if (reading instanceof PlanReading.Understood understood) {
        Plan plan = understood.plan();
        Experience experience =
            Experience.of(
                made.dripper(),
                plan.dose(),
                kit.watched(own.commandLine(), plan.dose(), plan.waterTemperatureCelsius()));
        for (Trouble trouble : Forecast.of(plan, made, experience).troubles()) {
          err.println(
              "note: pour " + trouble.pour() + ": " + trouble.says() + "; " + trouble.fix());
        }
      }
      err.flush();
      if (reading instanceof PlanReading.Understood understood) {
        out.println(PlanText.of(Schedule.of(understood.plan())));
        out.flush();
        return CommandLine.ExitCode.OK;
      }
      return CommandLine.ExitCode.SOFTWARE;
    }
  }

  /** The same by hand and eye. */
  @Command(
      name = "page",
      versionProvider = Main.Version.class,
      mixinStandardHelpOptions = true,
      usageHelpAutoWidth = true,
      header = "Build plans in a browser, and see at once what they will do. Ctrl-C ends it.",
      description = {"", "Plans are kept in the folder plans beside the journal.", ""})
  static final class Page implements Callable<Integer> {
    @Mixin private PageOptions page = new PageOptions();

    @Mixin private OpenJournal journal = new OpenJournal();

    @Spec private @Nullable CommandSpec spec;

    @Override
    public Integer call() throws Failure, InterruptedException {
      PrintWriter err = Objects.requireNonNull(spec).commandLine().getErr();
      try (JournalFile kept = journal.open(err)) {
        LocalPage.stay(page, kept, "plan", err);
      }
      return CommandLine.ExitCode.OK;
    }
  }
}
