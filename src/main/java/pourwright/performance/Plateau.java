package pourwright.performance;

import pourwright.statistic.Line;
import pourwright.statistic.Sample;

/**
 * A weight that stayed.
 *
 * @param from first reading (s)
 * @param to last reading (s)
 * @param grams mean of all readings
 * @param deviation standard deviation of one reading about a straight line (g)
 * @param count of readings, at least 3
 */
public record Plateau(double from, double to, double grams, double deviation, int count) {

  /**
   * What these readings come to.
   *
   * @throws IllegalArgumentException with fewer than three
   */
  public static Plateau of(Series still) {
    int count = still.size();
    if (count < 3) {
      throw new IllegalArgumentException("a plateau needs three readings, has " + count);
    }
    double[] grams = still.toGrams();
    Sample sample = Sample.of(grams);
    double deviation =
        still.span() > 0
            ? Line.of(still.toSeconds(), grams).residualStandardDeviation()
            : sample.standardDeviation();
    return new Plateau(still.seconds(0), still.seconds(count - 1), sample.mean(), deviation, count);
  }

  /** Its middle (s). */
  public double at() {
    return (from + to) / 2;
  }
}
