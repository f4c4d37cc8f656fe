package pourwright.detect;

import java.util.function.DoubleUnaryOperator;
import pourwright.rig.Place;
import pourwright.units.SessionTime;

/** Tracks of a mass that is known at every moment, twenty readings a second; it begins at zero. */
final class Readings {
  /**
   * After the first reading, a display that is never quite still: up and down by so much in turn
   * (g).
   */
  private static final double DITHER = 0.01;

  private Readings() {}

  static Track of(double seconds, DoubleUnaryOperator grams) {
    return of(20, seconds, grams);
  }

  static Track of(double perSecond, double seconds, DoubleUnaryOperator grams) {
    Curve curve = new Curve(Place.WHOLE);
    for (int i = 0; i <= seconds * perSecond; i++) {
      double shown =
          grams.applyAsDouble(i / perSecond) + (i == 0 ? 0 : i % 2 == 0 ? DITHER : -DITHER);
      curve.add(Math.round(i / perSecond * 1e9), Math.round(shown * 1e9));
    }
    return new Track(curve);
  }

  static SessionTime at(double seconds) {
    return SessionTime.ofNanos(Math.round(seconds * 1e9));
  }
}
