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
    List<String> notices) {
  public RehearsalView {
    lanes = List.copyOf(lanes);
    notices = List.copyOf(notices);
  }
}
