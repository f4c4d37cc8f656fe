package pourwright.session;

import java.time.Duration;
import java.util.List;
import pourwright.detect.DetectorSettings;
import pourwright.rig.Rig;
import pourwright.roving.Turn;

/**
 * All that a rehearsal is made of.
 *
 * @param start what is known beforehand
 * @param settings of the detector, one per lane of {@code start}, in its order
 * @param scales every scale of every lane; where one is moved between, that one under the first rig
 * @param turns in which order one scale is moved from lane to lane; empty: every lane has its own
 * @param idleLimit how long a run in which nothing more happens is waited for
 */
public record Setup(
    RunStart start,
    List<DetectorSettings> settings,
    List<PlacedScale> scales,
    Duration idleLimit,
    List<Turn> turns) {

  /** Longer than any drawdown between two pours; own choice. */
  public static final Duration USUAL_IDLE_LIMIT = Duration.ofMinutes(5);

  public Setup {
    settings = List.copyOf(settings);
    scales = List.copyOf(scales);
    turns = List.copyOf(turns);
    if (settings.size() != start.lanes().size()) {
      throw new IllegalArgumentException("one detector setting per lane is needed");
    }
    for (PlacedScale scale : scales) {
      RunStart.Lane lane = start.lanes().get(scale.stand().lane() - 1);
      if (!lane.rig().places().contains(scale.stand().place())) {
        throw new IllegalArgumentException(
            "rig " + lane.rig().word() + " has no scale at " + scale.stand().place().word());
      }
    }
    boolean isMoved = !turns.isEmpty();
    if (isMoved
        && (scales.size() != 1
            || start.lanes().stream().anyMatch(lane -> lane.rig() != Rig.WHOLE))) {
      throw new IllegalArgumentException(
          "a scale that is moved between is alone, and stands under the whole rig");
    }
  }

  /** A rehearsal in which every lane has its own scales. */
  public Setup(
      RunStart start,
      List<DetectorSettings> settings,
      List<PlacedScale> scales,
      Duration idleLimit) {
    this(start, settings, scales, idleLimit, List.of());
  }
}
