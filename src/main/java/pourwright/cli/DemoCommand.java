package pourwright.cli;

import java.io.IOException;
import java.io.InputStream;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
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
import picocli.CommandLine.Spec;
import pourwright.coach.Feedback;
import pourwright.device.ScaleAddress;
import pourwright.journal.JournalFile;
import pourwright.journal.RunFilter;

/** A rehearsal without any hardware. */
@Command(
    name = "demo",
    versionProvider = Main.Version.class,
    mixinStandardHelpOptions = true,
    usageHelpAutoWidth = true,
    header = "See a whole rehearsal on a simulated brewer, rig and scale.",
    description = {
      "",
      "A simulated brewer pours the demo plan on a simulated scale, and the program treats it like "
          + "any other: its bytes are decoded, its pours found, judged and kept.",
      "",
      "With --season a whole season of such rehearsals is poured into the journal at once, marked "
          + "as simulated, to see what the runs together tell.",
      ""
    },
    sortOptions = false)
final class DemoCommand implements Callable<Integer> {
  private static final String PLAN = "/pourwright/plans/regional-heat.yaml";
  static final String DRAFT = "/pourwright/plans/regional-heat-first-draft.yaml";

  /** The last run of a season was yesterday, so that it never looks like one of today. */
  private static final Duration SINCE_SEASON = Duration.ofDays(1);

  @Option(
      names = "--speed",
      paramLabel = "TIMES",
      defaultValue = "1",
      description = "Times as fast as life; 0 as fast as it goes. Default: 1.")
  private double speed = 1;

  @Option(
      names = "--seed",
      paramLabel = "NUMBER",
      defaultValue = "7",
      description = "The same seed pours the same run. Default: 7.")
  private long seed = 7;

  @Option(
      names = "--simulation",
      paramLabel = "NAME",
      defaultValue = "stage",
      description =
          "Who pours on what: bench, stage, novice, slow-scale, coarse-scale, board, bursts or"
              + " rough. Default: stage.")
  private String simulation = "stage";

  @Option(
      names = "--season",
      description =
          "Fill the journal with six weeks of simulated rehearsals instead. A journal that holds"
              + " runs of your own is left alone; name another place with --data.")
  private boolean isSeason;

  @Mixin private RehearsalOptions options = new RehearsalOptions();

  @Spec private @Nullable CommandSpec spec;

  @Override
  public Integer call() throws Failure, InterruptedException {
    CommandLine own = Objects.requireNonNull(spec).commandLine();
    if (isSeason) {
      fillSeason(own.getErr());
      return CommandLine.ExitCode.OK;
    }
    String text = "sim:" + simulation + "?seed=" + seed + "&speed=" + speed;
    ScaleAddress address;
    try {
      address = ScaleAddress.parse(text);
    } catch (IllegalArgumentException wrong) {
      throw new ParameterException(own, String.valueOf(wrong.getMessage()), wrong);
    }
    Ensemble ensemble =
        Ensemble.of(
            List.of(demoPlan()),
            Optional.empty(),
            List.of(text),
            List.of(address),
            List.of("simulated brewer"));
    options.page().alwaysOpen();
    return new LiveRun(own.getOut(), own.getErr(), options).run(ensemble, Feedback.FULL);
  }

  private void fillSeason(PrintWriter err) throws Failure, InterruptedException {
    try (JournalFile journal = OpenJournal.in(options.data(), err)) {
      if (!journal.listRuns(RunFilter.all().withoutSimulated()).isEmpty()) {
        throw new Failure(
            journal.path()
                + " holds runs of your own; give the season another place with --data DIR");
      }
      Instant end = Instant.now().minus(SINCE_SEASON);
      new Season(journal, plan(DRAFT), plan(PLAN), end, seed)
          .fill(
              done -> {
                if (done % 10 == 0) {
                  err.println(done + " of " + Season.RUNS + " simulated rehearsals are kept");
                  err.flush();
                }
              });
      err.println("see: pourwright runs list --data " + options.data().path());
      err.flush();
    } catch (IOException failed) {
      throw Failure.of(failed);
    }
  }

  /** The plan that comes with the program. */
  static PlanFile demoPlan() throws Failure {
    return plan(PLAN);
  }

  static PlanFile plan(String resource) throws Failure {
    try (InputStream in = Objects.requireNonNull(DemoCommand.class.getResourceAsStream(resource))) {
      return PlanFile.of(new String(in.readAllBytes(), StandardCharsets.UTF_8), "the demo plan");
    } catch (IOException broken) {
      throw new Failure("the demo plan cannot be read: " + broken.getMessage(), broken);
    }
  }
}
