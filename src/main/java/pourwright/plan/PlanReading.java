package pourwright.plan;

import java.util.List;

/** What came of reading a plan file. */
public sealed interface PlanReading {

  /**
   * A plan that can be poured.
   *
   * @param warnings what is legal but unusual, in the order of the file
   */
  record Understood(Plan plan, List<PlanProblem> warnings) implements PlanReading {
    public Understood {
      warnings = List.copyOf(warnings);
    }
  }

  /**
   * No plan.
   *
   * @param problems all that was found, warnings too, in the order of the file; at least one error
   */
  record Refused(List<PlanProblem> problems) implements PlanReading {
    public Refused {
      problems = List.copyOf(problems);
    }
  }
}
