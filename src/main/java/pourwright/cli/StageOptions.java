package pourwright.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import pourwright.compare.Comparison.Kind;
import pourwright.journal.JournalFile;
import pourwright.journal.RunFilter;
import pourwright.plan.Plan;
import pourwright.plan.PlanProblem;
import pourwright.review.PlanReview;
import pourwright.review.Run;
import pourwright.stage.EventRules;
import pourwright.stage.Odds;
import pourwright.stage.Outcome;
import pourwright.stage.Patience;
import pourwright.stage.Spreads;
import pourwright.stage.StageFile;
import pourwright.stage.StageReader;
import pourwright.stage.StageReading;
import pourwright.stage.StageSolver;
import pourwright.stage.Sturdy;

/** What every stage command can be told, and the routine it makes of it. */
final class StageOptions {
  /** A spread of fewer runs says nothing. */
  private static final int LEAST_RUNS = 3;

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

  /**
   * A routine with its timetable.
   *
   * @param spreadsFrom where the spreads come from, in words
   */
  record Staged(
      StageFile file,
      Outcome outcome,
      Optional<Odds> odds,
      int marginSeconds,
      long seed,
      String spreadsFrom) {}

  /** The plans and names of the routine as they stand in their files. */
  private final List<PlanFile> plans = new ArrayList<>();

  List<PlanFile> plans() {
    return plans;
  }

  /** Reads the routine and finds its timetable. */
  Staged staged(PrintWriter err, OpenJournal opener) throws Failure {
    if (seconds < 1 || trials < 1 || trials > 1_000_000) {
      throw new Failure("--seconds and --trials must be 1 or more, trials at most 1000000");
    }
    StageFile file = read(err);
    String from = "the routine, else a practised hand";
    if (isOwnSpreads) {
      try (JournalFile journal = opener.open(err)) {
        Optional<Spreads> own = ownSpreads(journal, file);
        if (own.isPresent()) {
          file = file.withSpreads(own.get());
          from = "your own runs";
        } else {
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
            file, chosen.planned(), Optional.of(chosen.odds()), chosen.marginSeconds(), seed, from);
      }
    }
    Outcome outcome = StageSolver.solve(file.routine(), patience);
    StageFile solved = file;
    Optional<Odds> odds =
        outcome instanceof Outcome.Planned planned
            ? Optional.of(
                Odds.of(planned.timetable(), solved.routine(), solved.spreads(), seed, trials))
            : Optional.empty();
    return new Staged(file, outcome, odds, 0, seed, from);
  }

  private StageFile read(PrintWriter err) throws Failure {
    if (routine == null) {
      return understood(
          StageDemo.text(),
          "the demo routine",
          name -> {
            throw new Failure("the demo routine has its own plan");
          },
          err);
    }
    Path folder = Optional.ofNullable(routine.toAbsolutePath().getParent()).orElse(Path.of("."));
    return understood(
        PlanFile.textOf(routine), routine.toString(), name -> folder.resolve(name), err);
  }

  /** Finds the file that a name in the routine stands for. */
  private interface Beside {
    Path file(String name) throws Failure;
  }

  private StageFile understood(String text, String name, Beside beside, PrintWriter err)
      throws Failure {
    List<String> complaints = new ArrayList<>();
    StageReading reading =
        StageReader.read(
            text,
            name,
            plan -> plan(plan, beside, complaints),
            event -> event(event, beside, complaints));
    if (reading instanceof StageReading.Understood understood) {
      understood.warnings().forEach(warning -> err.println("note: " + warning));
      return understood.file();
    }
    List<PlanProblem> errors =
        ((StageReading.Refused) reading)
            .problems().stream()
                .filter(problem -> problem.severity() == PlanProblem.Severity.ERROR)
                .toList();
    complaints.forEach(complaint -> err.println("note: " + complaint));
    errors.stream().skip(1).forEach(error -> err.println("also: " + error));
    throw new Failure(errors.get(0).toString());
  }

  private Optional<Plan> plan(String name, Beside beside, List<String> complaints) {
    try {
      PlanFile file =
          name.equals(StageDemo.PLAN) ? DemoCommand.demoPlan() : PlanFile.read(beside.file(name));
      plans.add(file);
      return Optional.of(file.plan());
    } catch (Failure unusable) {
      complaints.add(String.valueOf(unusable.getMessage()));
      return Optional.empty();
    }
  }

  private static Optional<EventRules> event(String name, Beside beside, List<String> complaints) {
    try {
      Path file = beside.file(name);
      return StageReader.readEvent(PlanFile.textOf(file), file.toString(), complaints::add);
    } catch (Failure unusable) {
      complaints.add(String.valueOf(unusable.getMessage()));
      return Optional.empty();
    }
  }

  /** Mean spread of mass and start over the pours of the plans that have been rehearsed. */
  private static Optional<Spreads> ownSpreads(JournalFile journal, StageFile file)
      throws IOException {
    List<Double> grams = new ArrayList<>();
    List<Double> starts = new ArrayList<>();
    for (String title :
        file.routine().stations().stream().map(s -> s.plan().title()).distinct().toList()) {
      for (PlanReview review :
          Reviewed.of(journal, RunFilter.all().finished().titled(title)).reviews()) {
        boolean isSimulated = review.runs().stream().allMatch(Run::isSimulated);
        if (review.runs().size() >= LEAST_RUNS && !isSimulated) {
          collect(review, Kind.MASS, grams);
          collect(review, Kind.START, starts);
        }
      }
    }
    OptionalDouble gram = grams.stream().mapToDouble(Double::doubleValue).average();
    OptionalDouble start = starts.stream().mapToDouble(Double::doubleValue).average();
    if (gram.isEmpty()) {
      return Optional.empty();
    }
    Spreads told = file.spreads();
    return Optional.of(
        new Spreads(
            gram.getAsDouble(),
            start.orElse(told.startSeconds()),
            told.flowPercent(),
            told.drainPercent(),
            told.chorePercent()));
  }

  private static void collect(PlanReview review, Kind kind, List<Double> spreads) {
    review.pours().stream()
        .flatMap(pour -> pour.habits().stream())
        .filter(habit -> habit.kind() == kind)
        .forEach(habit -> habit.errors().spread().ifPresent(spreads::add));
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
