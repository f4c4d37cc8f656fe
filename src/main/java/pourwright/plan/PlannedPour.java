package pourwright.plan;

import java.time.Duration;
import pourwright.units.Flow;
import pourwright.units.Mass;

/**
 * One pour to be made.
 *
 * @param index counts from 1
 * @param add water of this pour, positive
 * @param flow how fast, positive
 * @param start when its first water lands
 */
public record PlannedPour(int index, Mass add, Flow flow, Start start) {

  /** First water to last water at the planned flow. */
  public Duration length() {
    return Duration.ofNanos(Math.round(1e9 * add.nanograms() / (double) flow.nanogramsPerSecond()));
  }
}
