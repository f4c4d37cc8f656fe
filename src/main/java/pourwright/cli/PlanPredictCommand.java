package pourwright.cli;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;
import pourwright.builder.ForecastJson;
import pourwright.builder.PlanJson;
import pourwright.forecast.Experience;
import pourwright.forecast.Forecast;
import pourwright.forecast.Kit;
import pourwright.forecast.PastRun;
import pourwright.journal.JournalFile;
import pourwright.plan.Plan;
import pourwright.plan.Schedule;

/** Says what a plan will do before it is poured. */
@Command(
    name = "predict",
    versionProvider = Main.Version.class,
    mixinStandardHelpOptions = true,
    usageHelpAutoWidth = true,
    sortOptions = false,
    header = "Say what a plan will do: drain times, levels, cup, kettle, and what is in its way.",
    description = {
      "",
      "Learns from your kept runs of the same plan: drain times where the outflow was weighed (rig "
          + "split or server), the water that the coffee keeps, extraction, and the flows of your "
          + "hand. Until there are some, it says that it guesses.",
      ""
    },
    footer = {
      "",
      "Write your kit once into a file, one option on each line, and give it as @kit.txt:",
      "  pourwright plan predict heat.yaml @kit.txt",
      ""
    })
final class PlanPredictCommand implements Callable<Integer> {
  @Parameters(paramLabel = "FILE", description = "The plan (YAML).")
  private Path file = Path.of("");

  @Mixin private KitOptions kit = new KitOptions();

  @Option(
      names = "--learn",
      negatable = true,
      defaultValue = "true",
      fallbackValue = "true",
      description = "Learn from the kept runs of this plan. On unless --no-learn.")
  private boolean isLearning;

  @Option(
      names = "--simulated",
      description = "Learn from runs of the simulated brewer instead of your own.")
  private boolean isSimulated;

  @Mixin private OpenJournal journal = new OpenJournal();

  @Option(names = "--format", paramLabel = "FORMAT", description = "text or json.")
  private Format format = Format.TEXT;

  @Spec private @Nullable CommandSpec spec;

  @Override
  public Integer call() throws Failure, IOException {
    CommandLine command = Objects.requireNonNull(spec).commandLine();
    PrintWriter out = command.getOut();
    Plan plan = PlanFile.read(file).plan();
    Kit made = kit.kit(command);
    List<PastRun> runs =
        new ArrayList<>(kit.watched(command, plan.dose(), plan.waterTemperatureCelsius()));
    if (isLearning) {
      try (JournalFile kept = journal.open(command.getErr())) {
        runs.addAll(PastRuns.of(kept, plan.title(), isSimulated));
      }
    }
    Experience experience = Experience.of(made.dripper(), plan.dose(), runs);
    Forecast forecast = Forecast.of(plan, made, experience);
    if (format == Format.JSON) {
      try (JsonGenerator json = Json.write(out)) {
        json.writeStartObject();
        json.writeNumberField("format", 1);
        PlanJson.plan(json, Schedule.of(plan));
        ForecastJson.forecast(json, forecast, experience);
        json.writeEndObject();
      }
      out.println();
    } else {
      out.println(PlanText.of(Schedule.of(plan)));
      out.println();
      out.println(ForecastText.of(forecast, experience));
    }
    out.flush();
    command.getErr().flush();
    return CommandLine.ExitCode.OK;
  }
}
