package pourwright.performance;

import java.util.OptionalDouble;

/**
 * How the display went from one weight to another when something was put on or taken off at once.
 *
 * @param readings from before the change until it was over
 * @param before weight before (g)
 * @param after weight after (g)
 * @param beat when the brewer was told to move (s), where there was a beat
 */
public record StepTrace(Series readings, double before, double after, OptionalDouble beat) {
  /** On the way is what lies between these shares of the step. */
  private static final double MARGIN = 0.1;

  /** A hand that pushes shows weights this far beyond both ends (share of the step). */
  private static final double PUSH = 0.04;

  double size() {
    return after - before;
  }

  double share(double grams) {
    return (grams - before) / size();
  }

  boolean isOnTheWay(double grams) {
    double share = share(grams);
    return share > MARGIN && share < 1 - MARGIN;
  }

  /** Whether the display went past either end, as when a hand pushes. */
  boolean isPushed() {
    for (int i = 0; i < readings.size(); i++) {
      double share = share(readings.grams(i));
      if (share < -PUSH || share > 1 + PUSH) {
        return true;
      }
    }
    return false;
  }
}
