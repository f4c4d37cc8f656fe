package pourwright.coach;

import java.util.Optional;
import java.util.OptionalInt;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * What a screen shows the brewer at one moment; times are those of the recording.
 *
 * @param planClock time since the plan clock started; empty before the first water
 * @param pour planned pour that runs; empty between pours and for a pour nobody planned
 * @param toGo water still to pour in the running pour, counted to the moment to stop: what is in
 *     the air, in the scale's lag and in the hand is off already. Negative once it will be too much
 * @param ahead water of the running pour beyond the planned line that begins at its real start, lag
 *     taken out; negative when behind
 * @param flow present flow of the running pour
 * @param wantedFlow its planned flow
 * @param next the pour that comes next
 * @param shown whether the brewer is to see the figures now (see {@link Feedback})
 */
public record Guidance(
    SessionTime at,
    Optional<SessionTime> planClock,
    OptionalInt pour,
    Optional<Mass> toGo,
    Optional<Mass> ahead,
    Optional<Flow> flow,
    Optional<Flow> wantedFlow,
    Optional<Next> next,
    boolean shown) {

  /**
   * A pour to come.
   *
   * @param pour planned pour
   * @param add its water
   * @param due when its first water should land; empty for the pour that starts the clock, and
   *     while the pour before it, whose end it counts from, still runs
   */
  public record Next(int pour, Mass add, Optional<SessionTime> due, Reason reason) {

    /** Until it is due (s); negative when it is late; empty like {@link #due}. */
    public Optional<Double> secondsUntil(SessionTime now) {
      return due.map(moment -> moment.secondsSince(now));
    }
  }

  /** Why the next pour starts when it starts. */
  public enum Reason {
    /** Its first water starts the clock. */
    FIRST,
    CLOCK,
    /** So long after the end of the pour before. */
    GAP,
    /** The bed is thought to be dry by then. */
    DRAINED_EXPECTED,
    /** The bed is dry. */
    DRAINED
  }
}
