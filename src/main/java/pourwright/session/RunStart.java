package pourwright.session;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import pourwright.coach.Feedback;
import pourwright.plan.Plan;
import pourwright.rig.Rig;

/**
 * What is known before the first reading.
 *
 * @param at the one wall-clock stamp of the run
 * @param program name and version of the program that recorded it
 * @param simulated whether every weight comes from the simulated scale
 * @param fadedRun how many runs were made under fading feedback before this one
 * @param lanes one per brewer, in order
 */
public record RunStart(
    Instant at,
    String program,
    boolean simulated,
    Feedback feedback,
    int fadedRun,
    List<Lane> lanes) {
  public RunStart {
    lanes = List.copyOf(lanes);
  }

  /**
   * One brewer's rig.
   *
   * @param number from 1
   * @param plan what is rehearsed; empty for a free run
   */
  public record Lane(
      int number, String brewer, Rig rig, Optional<WrittenPlan> plan, List<HeardScale> scales) {
    public Lane {
      scales = List.copyOf(scales);
    }
  }

  /**
   * A plan and the file it came from.
   *
   * @param text as it stood in the file at the start of the run
   */
  public record WrittenPlan(String text, Plan plan) {}

  /**
   * One scale; see {@link LinkView}.
   *
   * @param lagSeconds how far its display was known to run behind (s); empty: taken from the
   *     recording
   * @param noiseGrams how much its readings were known to scatter at rest (g)
   */
  public record HeardScale(
      Stand stand,
      String address,
      String profile,
      OptionalDouble lagSeconds,
      OptionalDouble noiseGrams) {
    /** A scale of which nothing is known. */
    public HeardScale(Stand stand, String address, String profile) {
      this(stand, address, profile, OptionalDouble.empty(), OptionalDouble.empty());
    }
  }
}
