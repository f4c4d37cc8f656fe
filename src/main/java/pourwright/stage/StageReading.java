package pourwright.stage;

import java.util.List;
import pourwright.plan.PlanProblem;

/** What came of reading a routine file. */
public sealed interface StageReading {

  /**
   * A routine that can be planned.
   *
   * @param warnings what is legal but unusual, in the order of the file
   */
  record Understood(StageFile file, List<PlanProblem> warnings) implements StageReading {
    public Understood {
      warnings = List.copyOf(warnings);
    }
  }

  /**
   * No routine.
   *
   * @param problems all that was found, warnings too; at least one error
   */
  record Refused(List<PlanProblem> problems) implements StageReading {
    public Refused {
      problems = List.copyOf(problems);
    }
  }
}
