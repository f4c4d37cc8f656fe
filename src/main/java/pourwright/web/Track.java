package pourwright.web;

import java.util.Arrays;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/** The poured water of one lane over time as it was shown live; only ever grows within a run. */
final class Track {
  /** A resting weight gets a point this often (s); a moving one with every view. */
  private static final double RESTING_SECONDS = 1.0;

  private static final double VISIBLE_GRAMS = 0.05;

  private double[] seconds = new double[1024];
  private double[] grams = new double[1024];
  private int size;

  /** Adds a point unless it would not be seen. */
  void add(SessionTime at, Mass poured) {
    double time = at.seconds();
    double mass = poured.grams();
    if (size > 0) {
      double passed = time - seconds[size - 1];
      boolean isStill = Math.abs(mass - grams[size - 1]) < VISIBLE_GRAMS;
      if (passed <= 0 || (isStill && passed < RESTING_SECONDS)) {
        return;
      }
    }
    if (size == seconds.length) {
      seconds = Arrays.copyOf(seconds, 2 * size);
      grams = Arrays.copyOf(grams, 2 * size);
    }
    seconds[size] = time;
    grams[size] = mass;
    size++;
  }

  int size() {
    return size;
  }

  /** Moment of a point, recording time (s). */
  double seconds(int point) {
    return seconds[point];
  }

  /** All water poured by then (g). */
  double grams(int point) {
    return grams[point];
  }
}
