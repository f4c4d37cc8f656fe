package pourwright.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;
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
    header = "Build and check plan files.",
    subcommands = {PlanBuildCommand.class, PlanCommand.Check.class},
    synopsisSubcommandLabel = "COMMAND")
final class PlanCommand implements Runnable {
  @Spec private @Nullable CommandSpec spec;

  @Override
  public void run() {
    CommandSpec own = spec;
    if (own != null) {
      throw new ParameterException(
          own.commandLine(), "say what to do: plan build, plan check FILE");
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

    @Spec private @Nullable CommandSpec spec;

    @Override
    public Integer call() throws Failure {
      CommandSpec own = java.util.Objects.requireNonNull(spec);
      PrintWriter out = own.commandLine().getOut();
      PrintWriter err = own.commandLine().getErr();
      PlanReading reading = PlanReader.read(PlanFile.textOf(file), file.toString());
      List<PlanProblem> problems =
          reading instanceof PlanReading.Understood understood
              ? understood.warnings()
              : ((PlanReading.Refused) reading).problems();
      for (PlanProblem problem : problems) {
        boolean isError = problem.severity() == PlanProblem.Severity.ERROR;
        err.println((isError ? "" : "note: ") + problem);
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
}
