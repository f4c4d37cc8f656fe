package pourwright.plan;

import java.time.Duration;
import pourwright.units.SessionTime;

/** What tells the brewer to begin a pour. */
public sealed interface Start {

  /** The clock, counted from the first water of the run. */
  record AtClock(SessionTime at) implements Start {}

  /** A gap after the last water of the pour before. */
  record AfterEnd(Duration gap) implements Start {}

  /**
   * The bed has run dry.
   *
   * @param expected the clock time by which that is thought to happen
   */
  record WhenDrained(SessionTime expected) implements Start {}
}
