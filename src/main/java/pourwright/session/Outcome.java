package pourwright.session;

import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import pourwright.compare.Comparison;
import pourwright.compare.PouredCurve;
import pourwright.detect.Analysis;
import pourwright.units.Mass;

/**
 * A finished run.
 *
 * @param why what ended it
 * @param length from the first to the last moment heard
 * @param isVoid whether the brewer said that it does not count
 */
public record Outcome(
    RunStart start, Ending why, Duration length, boolean isVoid, List<LaneOutcome> lanes) {
  public Outcome {
    lanes = List.copyOf(lanes);
  }

  /** What ends a run. */
  public enum Ending {
    /** The dripper was lifted in every lane. */
    LIFTED,
    /** The brewer said so. */
    STOPPED,
    /** The recording that was played has no more. */
    SOURCE_ENDED,
    /** Nothing happened for a long time. */
    IDLE
  }

  /**
   * One lane of it.
   *
   * @param analysis events as announced live, and what hindsight makes of them
   * @param curve poured water over time
   * @param comparison against the plan, where there is one
   * @param estimates the brewer's own guesses by pour, from 1
   */
  public record LaneOutcome(
      int number,
      Analysis analysis,
      PouredCurve curve,
      Optional<Comparison> comparison,
      Map<Integer, Mass> estimates) {
    public LaneOutcome {
      estimates = Map.copyOf(estimates);
    }
  }
}
