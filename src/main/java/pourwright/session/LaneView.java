package pourwright.session;

import java.util.List;
import java.util.Optional;
import pourwright.coach.Cue;
import pourwright.coach.Guidance;
import pourwright.compare.Comparison;
import pourwright.detect.Outlook;
import pourwright.plan.Schedule;
import pourwright.rig.Rig;
import pourwright.units.SessionTime;

/**
 * One brewer's rig at one moment of a rehearsal; an immutable snapshot.
 *
 * @param number from 1
 * @param brewer name of the lane
 * @param schedule the plan, laid out; empty for a free run
 * @param tared whether every scale of the lane shows about zero, or has been zeroed since it was
 *     first heard
 * @param firstWater when the first water of this lane landed, in recording time
 * @param outlook what the detector sees; empty until a first weight came
 * @param pours as announced, in order; the last one may still run
 * @param soFar the ended pours against the plan; pours that may still come are left out
 * @param guidance what the coach shows now; empty for a free run
 * @param cues everything the coach has said in this run; the list only grows, so whoever knows how
 *     many there were knows which are new
 * @param links one per scale
 */
public record LaneView(
    int number,
    String brewer,
    Rig rig,
    Optional<Schedule> schedule,
    Phase phase,
    boolean tared,
    Optional<SessionTime> firstWater,
    Optional<Outlook> outlook,
    List<SeenPour> pours,
    Optional<Comparison> soFar,
    Optional<Guidance> guidance,
    List<Cue> cues,
    List<LinkView> links) {
  public LaneView {
    pours = List.copyOf(pours);
    cues = List.copyOf(cues);
    links = List.copyOf(links);
  }

  /** Where {@code at} of the recording stands on the plan clock; empty before the first water. */
  public Optional<SessionTime> planClock(SessionTime at) {
    return firstWater.map(
        water -> {
          SessionTime zero = schedule.map(plan -> plan.clockZero(water)).orElse(water);
          return SessionTime.ZERO.plus(at.since(zero));
        });
  }
}
