package pourwright.session;

import java.time.Duration;
import java.util.List;
import pourwright.detect.DetectorSettings;

/**
 * All that a rehearsal is made of.
 *
 * @param start what is known beforehand
 * @param settings of the detector, one per lane of {@code start}, in its order
 * @param scales every scale of every lane
 * @param idleLimit how long a run in which nothing more happens is waited for
 */
public record Setup(
    RunStart start, List<DetectorSettings> settings, List<PlacedScale> scales, Duration idleLimit) {

  /** Longer than any drawdown between two pours; own choice. */
  public static final Duration USUAL_IDLE_LIMIT = Duration.ofMinutes(5);

  public Setup {
    settings = List.copyOf(settings);
    scales = List.copyOf(scales);
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
  }
}
