package pourwright.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import pourwright.plan.Plan;
import pourwright.plan.PlanProblem;
import pourwright.stage.EventRules;
import pourwright.stage.StageFile;
import pourwright.stage.StageReader;
import pourwright.stage.StageReading;

/** Reads a routine with the plans and the event rules that it names, which lie beside it. */
final class RoutineFiles {
  private final List<PlanFile> plans = new ArrayList<>();

  /** The plans read so far, in the order in which the routine names them. */
  List<PlanFile> plans() {
    return List.copyOf(plans);
  }

  /**
   * The routine of a file; without one, the demo routine. Warnings are told.
   *
   * @throws Failure when it cannot be read or makes no sense; what else is wrong was told
   */
  StageFile read(@Nullable Path routine, PrintWriter err) throws Failure {
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
}
