package pourwright.session;

import java.util.List;
import java.util.Optional;
import pourwright.coach.Feedback;
import pourwright.units.SessionTime;

/**
 * Everything a screen needs about a rehearsal at one moment; an immutable snapshot.
 *
 * @param number grows from view to view
 * @param at recording time; all times within are on the same clock
 * @param phase that of the lane that has come least far, but running as soon as one lane runs
 * @param firstWater of the first lane that has any
 * @param lanes in order of their numbers
 * @param movedScale where the one scale that serves all lanes is; empty: every lane has its own
 * @param notices plain sentences about what is wrong now and what to do, such as a disk that takes
 *     no more
 */
public record RehearsalView(
    long number,
    SessionTime at,
    Phase phase,
    Optional<SessionTime> firstWater,
    Feedback feedback,
    boolean isVoid,
    List<LaneView> lanes,
    Optional<Standing> movedScale,
    List<String> notices) {
  public RehearsalView {
    lanes = List.copyOf(lanes);
    notices = List.copyOf(notices);
  }

  /**
   * Where a scale that is moved between is.
   *
   * @param lane under whose rig it stands, or stood last
   * @param away whether it is on its way, or nothing stands on it
   */
  public record Standing(int lane, boolean away) {}
}
