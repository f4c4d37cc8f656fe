package pourwright.performance;

import java.util.Arrays;

/** Readings in the order they came: when (s since the start, never falling) and what (g). */
public final class Series {
  private final double[] seconds;
  private final double[] grams;

  private Series(double[] seconds, double[] grams) {
    this.seconds = seconds;
    this.grams = grams;
  }

  /**
   * A copy of these readings.
   *
   * @throws IllegalArgumentException when there are not as many times as weights, or a time falls
   */
  public static Series of(double[] seconds, double[] grams) {
    if (seconds.length != grams.length) {
      throw new IllegalArgumentException(seconds.length + " times, " + grams.length + " weights");
    }
    for (int i = 1; i < seconds.length; i++) {
      if (seconds[i] < seconds[i - 1]) {
        throw new IllegalArgumentException("time falls to " + seconds[i] + " s");
      }
    }
    return new Series(seconds.clone(), grams.clone());
  }

  public int size() {
    return seconds.length;
  }

  public double seconds(int index) {
    return seconds[index];
  }

  public double grams(int index) {
    return grams[index];
  }

  /** First to last reading (s). */
  public double span() {
    return size() == 0 ? 0 : seconds[size() - 1] - seconds[0];
  }

  /** Readings of positions {@code from} to before {@code to}. */
  public Series slice(int from, int to) {
    return new Series(Arrays.copyOfRange(seconds, from, to), Arrays.copyOfRange(grams, from, to));
  }

  /** Readings of {@code from} to {@code to}, both included (s). */
  public Series between(double from, double to) {
    int first = 0;
    while (first < size() && seconds[first] < from) {
      first++;
    }
    int end = first;
    while (end < size() && seconds[end] <= to) {
      end++;
    }
    return slice(first, end);
  }

  double[] toSeconds() {
    return seconds.clone();
  }

  double[] toGrams() {
    return grams.clone();
  }
}
