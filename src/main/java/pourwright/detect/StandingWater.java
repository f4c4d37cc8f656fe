package pourwright.detect;

import java.util.Comparator;
import java.util.List;

/**
 * How much water stands on the bed, by how fast it runs out: the drawdowns that were seen to the
 * end tell how much was still to come at each flow. Where none was, the outflow is taken to follow
 * a power of what stands, and its fall tells.
 */
final class StandingWater {
  /**
   * Between a bed whose resistance is all in the grounds (1: Darcy) and one that hangs on a free
   * outlet (½: Torricelli).
   */
  private static final double POWER = 0.7;

  private static final double STEP_SECONDS = 0.25;

  /** Over this time the fall of the outflow is taken (s). */
  private static final double FALL_SECONDS = 3;

  private final Outflow outflow;
  private final List<double[]> drawdowns;

  /**
   * @param drawdowns from when to when each ran that was seen to the end (s)
   */
  StandingWater(Outflow outflow, List<double[]> drawdowns) {
    this.outflow = outflow;
    this.drawdowns = List.copyOf(drawdowns);
  }

  /** Water on a bed that runs out at {@code t} (g). */
  double at(double t) {
    double now = outflow.flowBefore(t);
    return drawdowns.stream()
        .min(Comparator.comparingDouble(down -> Math.abs(down[1] - t)))
        .map(down -> alike(down, now))
        .orElseGet(() -> byFall(t, now));
  }

  /** What was still to come in a drawdown when it ran as fast (g). */
  private double alike(double[] down, double now) {
    double dry = outflow.massAt(down[1]);
    for (double t = down[1]; t > down[0]; t -= STEP_SECONDS) {
      if (outflow.flowBefore(t + 0.5) >= now) {
        return Math.max(0, dry - outflow.massAt(t));
      }
    }
    double most = Math.max(0.1, outflow.flowBefore(down[0] + 1));
    return Math.max(0, dry - outflow.massAt(down[0])) * Math.pow(now / most, 1 / POWER);
  }

  private double byFall(double t, double now) {
    double fall = (outflow.flowBefore(t - FALL_SECONDS) - now) / FALL_SECONDS;
    return fall > 0 ? POWER * now * now / fall : 0;
  }
}
