package pourwright.detect;

import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import pourwright.rig.Place;

/** Recordings of a server into which runs what is known at every moment, for tests. */
final class Outflows {
  private static final double NOISE = 0.02;
  private static final double STEP = 0.05;

  private Outflows() {}

  /**
   * What has run out by a time (s) when the flow is straight between the corners given.
   *
   * @param corners time (s) and flow (g/s) in turn; none runs before the first, and after the last
   *     it goes on unchanged
   */
  static DoubleUnaryOperator ran(double... corners) {
    return t -> {
      double sum = 0;
      for (int i = 0; i < corners.length && corners[i] < t; i += 2) {
        boolean isLast = i + 2 >= corners.length;
        double end = isLast ? t : Math.min(t, corners[i + 2]);
        double fall =
            isLast ? 0 : (corners[i + 3] - corners[i + 1]) / (corners[i + 2] - corners[i]);
        double lasted = end - corners[i];
        sum += corners[i + 1] * lasted + fall * lasted * lasted / 2;
      }
      return sum;
    };
  }

  /** Twenty readings a second of it, with some noise and a display in steps of 0.05 g. */
  static Curve curve(double seconds, DoubleUnaryOperator grams) {
    Random random = new Random(11);
    Curve curve = new Curve(Place.SERVER);
    for (int i = 0; i < seconds * 20; i++) {
      double mass = grams.applyAsDouble(i / 20.0) + NOISE * random.nextGaussian();
      curve.add(i * 50_000_000L, Math.round(Math.rint(mass / STEP) * STEP * 1e9));
    }
    return curve;
  }

  static Track track(double seconds, DoubleUnaryOperator grams) {
    return new Track(curve(seconds, grams));
  }
}
