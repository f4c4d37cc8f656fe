package pourwright.detect;

import java.util.Optional;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * What the detector sees now; an immutable snapshot for the coach and the screen.
 *
 * @param at time of the newest reading
 * @param doing the present phase
 * @param pour index of the running or last pour, 0 before the first
 * @param inThisPour water of the running pour as the scale shows it, zero between pours
 * @param poured all water so far, as the scale shows it; of a server alone, what has run out
 * @param flow present flow (smoothed over about half a second, the scale's lag not removed)
 * @param landing where the running pour would come to rest if it were stopped now
 * @param lagSeconds lag of the scale as measured, given, or not yet known (0) (s)
 * @param noise standard deviation of one reading at rest
 * @param readingsPerSecond (1/s); 0 before it is known
 */
public record Outlook(
    SessionTime at,
    Doing doing,
    int pour,
    Mass inThisPour,
    Mass poured,
    Flow flow,
    Optional<Landing> landing,
    double lagSeconds,
    Mass noise,
    double readingsPerSecond) {

  /** The phase in the brewer's words. */
  public enum Doing {
    /** No steady weight yet. */
    SETTLING,
    /** Steady; nothing flows. */
    RESTING,
    POURING,
    /** Only the server is weighed: the bed runs out, nothing is poured on it. */
    DRAINING,
    /** The weight is not that of the rig alone. */
    DISTURBED,
    /** The dripper is off. */
    LIFTED,
    /** No readings arrive. */
    BLIND
  }

  /**
   * Landing forecast.
   *
   * @param inThisPour water of this pour once everything has landed and the scale has caught up
   * @param poured all water then
   * @param uncertainty standard uncertainty of both
   */
  public record Landing(Mass inThisPour, Mass poured, Mass uncertainty) {}
}
