package pourwright.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import pourwright.forecast.Kit;
import pourwright.journal.JournalFile;
import pourwright.stage.Odds;
import pourwright.stage.Outcome;
import pourwright.stage.Patience;
import pourwright.stage.Spreads;
import pourwright.stage.StageFile;
import pourwright.stage.StageSolver;
import pourwright.stage.Sturdy;

/** What every stage command can be told, and the routine it makes of it. */
final class StageOptions {
  @Parameters(
      paramLabel = "ROUTINE",
      arity = "0..1",
      description = "The routine (.yaml); without one, the demo routine.")
  private @Nullable Path routine;

  @Option(
      names = "--seconds",
      paramLabel = "S",
      defaultValue = "30",
      description = "Longest time to search. Default: ${DEFAULT-VALUE}.")
  private int seconds = 30;

  @Option(
      names = "--robust",
      description = "Choose the timetable that fares best when you scatter, not the shortest.")
  private boolean isRobust;

  @Option(
      names = "--trials",
      paramLabel = "N",
      defaultValue = "2000",
      description = "How many routines are played with dice. Default: ${DEFAULT-VALUE}.")
  private int trials = 2_000;

  @Option(
      names = "--seed",
      paramLabel = "NUMBER",
      defaultValue = "7",
      description = "The same seed plays the same routines. Default: ${DEFAULT-VALUE}.")
  private long seed = 7;

  @Option(
      names = "--own-spreads",
      description =
          "Take the spread of your pours from the journal, where it has three runs or more of a"
              + " plan of the routine.")
  private boolean isOwnSpreads;

  @Option(
      names = "--own-drains",
      description =
          "Take how long the beds drain from the journal, where your runs of a plan were weighed"
              + " while they drained.")
  private boolean isOwnDrains;

  private final RoutineFiles files = new RoutineFiles();

  /** The plans of the routine as they stand in their files, in the order of its brewers. */
  List<PlanFile> plans() {
    return files.plans();
  }

  /** Reads the routine and finds its timetable. */
  Staged staged(PrintWriter err, OpenJournal opener) throws Failure {
    if (seconds < 1 || trials < 1 || trials > 1_000_000) {
      throw new Failure("--seconds and --trials must be 1 or more, trials at most 1000000");
    }
    StageFile file = files.read(routine, err);
    String from = "the routine, else a practised hand";
    String drainsFrom = "the routine, else the plans";
    if (isOwnSpreads || isOwnDrains) {
      try (JournalFile journal = opener.open(err)) {
        OwnRuns own = new OwnRuns(journal);
        if (isOwnDrains) {
          OwnRuns.Learned<StageFile> drained = own.drains(file, Kit.USUAL);
          file = drained.value();
          drainsFrom = drained.from();
        }
        Optional<OwnRuns.Learned<Spreads>> scatter =
            isOwnSpreads ? own.spreads(file) : Optional.empty();
        if (scatter.isPresent()) {
          file = file.withSpreads(scatter.get().value());
          from = scatter.get().from();
        } else if (isOwnSpreads) {
          err.println(
              "note: the journal has no three runs of these plans; spreads as in the routine");
        }
      } catch (IOException unreadable) {
        throw new Failure(String.valueOf(unreadable.getMessage()), unreadable);
      }
    }
    err.println("planning, at most " + seconds + " s");
    err.flush();
    Patience patience = Patience.of(Duration.ofSeconds(seconds), System::nanoTime);
    if (isRobust) {
      Optional<Sturdy.Candidate> best =
          Sturdy.findBest(file.routine(), file.spreads(), seed, trials, patience);
      if (best.isPresent()) {
        Sturdy.Candidate chosen = best.get();
        return new Staged(
            file,
            chosen.planned(),
            Optional.of(chosen.odds()),
            chosen.marginSeconds(),
            seed,
            from,
            drainsFrom);
      }
    }
    Outcome outcome = StageSolver.solve(file.routine(), patience);
    StageFile solved = file;
    Optional<Odds> odds =
        outcome instanceof Outcome.Planned planned
            ? Optional.of(
                Odds.of(planned.timetable(), solved.routine(), solved.spreads(), seed, trials))
            : Optional.empty();
    return new Staged(file, outcome, odds, 0, seed, from, drainsFrom);
  }

  /** Writes a file, or says why not. */
  static void write(Path file, byte[] content) throws Failure {
    try {
      Files.write(file, content);
    } catch (IOException refused) {
      throw Failure.of(file.toString(), refused);
    }
  }
}
