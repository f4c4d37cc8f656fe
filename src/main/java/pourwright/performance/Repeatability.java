package pourwright.performance;

import java.util.Arrays;
import pourwright.statistic.Sample;

/**
 * How far the same load shows the same weight when it is put on again and again.
 *
 * @param deviation standard deviation of one placing, rounding of the display included (g)
 * @param range largest less smallest (g)
 * @param placings how many
 */
public record Repeatability(Estimate deviation, double range, int placings) {

  /**
   * From the weight each placing added.
   *
   * @param added at least two (g)
   * @param display what rounds and blurs them
   */
  public static Repeatability of(double[] added, Display display) {
    double seen = Sample.of(added).standardDeviation();
    double freedom = added.length - 1.0;
    double range = Arrays.stream(added).max().orElse(0) - Arrays.stream(added).min().orElse(0);
    double hidden = display.roundingUncertainty();
    if (seen >= 2 * hidden) {
      return new Repeatability(Estimate.ofDeviation(seen, freedom), range, added.length);
    }
    // Most of the scatter, or the lack of it, is rounding: only the upper end can be told.
    double high = Estimate.ofDeviation(Math.max(seen, hidden), freedom).high();
    return new Repeatability(
        new Estimate(seen, Math.max(hidden, high / 2), 0, high), range, added.length);
  }
}
