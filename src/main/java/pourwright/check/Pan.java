package pourwright.check;

import java.util.Arrays;
import pourwright.performance.Plateau;
import pourwright.performance.Series;
import pourwright.reading.Reading;

/** All readings of a check, and whether the newest of them have come to rest. */
final class Pan {
  /** The weight has to stay this long to be at rest (s); own choice. */
  private static final double REST_SECONDS = 1.2;

  private static final int LEAST_READINGS = 6;

  /** A change of less than this is nobody's doing (g); own choice. */
  private static final double LEAST_CHANGE_GRAMS = 0.5;

  private static final double CHANGE_STEPS = 3;
  private static final double CHANGE_NOISES = 8;

  /** Halves of a resting weight differ by at most this share of a step, or so many sigmas. */
  private static final double HALF_STEPS = 0.6;

  private static final double HALF_SIGMAS = 4;

  private double[] seconds = new double[4096];
  private double[] grams = new double[4096];
  private int size;
  private double step = Double.POSITIVE_INFINITY;
  private double noise = Double.NaN;

  void add(Reading reading) {
    if (size == seconds.length) {
      seconds = Arrays.copyOf(seconds, 2 * size);
      grams = Arrays.copyOf(grams, 2 * size);
    }
    seconds[size] = reading.at().seconds();
    grams[size] = reading.mass().grams();
    if (size > 0) {
      double change = Math.abs(grams[size] - grams[size - 1]);
      if (change > 1e-6) {
        step = Math.min(step, change);
      }
    }
    size++;
  }

  int size() {
    return size;
  }

  double now() {
    return seconds[size - 1];
  }

  double newest() {
    return grams[size - 1];
  }

  double secondsAt(int index) {
    return seconds[index];
  }

  /** Noise of one reading (g), once it is known. */
  void learnNoise(double deviation) {
    noise = deviation;
  }

  boolean knowsNoise() {
    return !Double.isNaN(noise);
  }

  double noise() {
    return knowsNoise() ? noise : 0;
  }

  /** The least change seen so far (g); 0 before any. */
  double step() {
    return Double.isInfinite(step) ? 0 : step;
  }

  /** A change beyond this is somebody's doing (g). */
  double threshold() {
    return Math.max(LEAST_CHANGE_GRAMS, Math.max(CHANGE_STEPS * step(), CHANGE_NOISES * noise()));
  }

  /** The first reading not before this moment. */
  int indexAt(double moment) {
    int index = size;
    while (index > 0 && seconds[index - 1] >= moment) {
      index--;
    }
    return index;
  }

  Series slice(int from, int to) {
    return Series.of(Arrays.copyOfRange(seconds, from, to), Arrays.copyOfRange(grams, from, to));
  }

  Series all() {
    return slice(0, size);
  }

  Plateau plateau(int from) {
    return Plateau.of(slice(from, size));
  }

  /** Whether the last readings, none from before {@code earliest}, are of a weight at rest. */
  boolean isSteady(int earliest) {
    int from = Math.min(indexAt(now() - REST_SECONDS), size - LEAST_READINGS);
    if (from < earliest || now() - seconds[Math.max(0, from)] < REST_SECONDS * 0.75) {
      return false;
    }
    int middle = (from + size) / 2;
    double low = Double.POSITIVE_INFINITY;
    double high = Double.NEGATIVE_INFINITY;
    double first = 0;
    double second = 0;
    double changes = 0;
    for (int i = from; i < size; i++) {
      low = Math.min(low, grams[i]);
      high = Math.max(high, grams[i]);
      if (i < middle) {
        first += grams[i];
      } else {
        second += grams[i];
      }
      if (i > from) {
        changes += (grams[i] - grams[i - 1]) * (grams[i] - grams[i - 1]);
      }
    }
    int count = size - from;
    // successive differences see noise and hardly a slope
    double scatter = Math.sqrt(changes / (2.0 * (count - 1)));
    double apart = Math.abs(second / (size - middle) - first / (middle - from));
    double allowed = Math.max(HALF_STEPS * step(), HALF_SIGMAS * scatter * Math.sqrt(4.0 / count));
    return apart <= allowed + 1e-9 && (!knowsNoise() || high - low <= restingRange());
  }

  /** A resting weight keeps within this range (g). */
  private double restingRange() {
    return Math.max(2 * step(), CHANGE_NOISES * noise()) + 1e-9;
  }
}
