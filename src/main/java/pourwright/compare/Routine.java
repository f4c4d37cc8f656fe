package pourwright.compare;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import pourwright.plan.Schedule;
import pourwright.units.SessionTime;

/**
 * What was planned, and what was made of it so far.
 *
 * @param made in order of time
 * @param drainedAfter by index of the made pour, when the bed ran dry after it; only moments that
 *     were measured, modelled or marked by the brewer, not mere bounds
 */
public record Routine(
    Schedule schedule, List<MadePour> made, Map<Integer, SessionTime> drainedAfter) {

  public Routine {
    made = List.copyOf(made);
    drainedAfter = Map.copyOf(drainedAfter);
  }

  /** Where the plan clock stands at zero; the first water starts it. */
  public SessionTime clockZero() {
    return schedule.clockZero(made.isEmpty() ? SessionTime.ZERO : made.get(0).start());
  }

  /**
   * When a planned pour was due.
   *
   * @param planned from 1
   * @param before how many pours had been made before it
   * @param previousEnd when the planned pour before it ended, if it was made
   */
  public SessionTime dueAt(int planned, int before, Optional<SessionTime> previousEnd) {
    Optional<SessionTime> drained =
        before == 0
            ? Optional.empty()
            : Optional.ofNullable(drainedAfter.get(made.get(before - 1).index()));
    return schedule.dueAt(planned, clockZero(), previousEnd, drained);
  }
}
