package pourwright.performance;

import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;

/**
 * What a display that shows whole steps hides, and what noise reveals again.
 *
 * <p>The rounding error as a function of the true weight is a saw-tooth. Gaussian noise of standard
 * deviation σ before rounding damps its k-th harmonic by exp(−2π²k²σ²/d²), so the mean of many
 * readings errs with the variance d²/(2π²)·Σ exp(−4π²k²σ²/d²)/k² over all true weights: d²/12
 * without noise, next to nothing from σ = d/2 on. (Fourier series of the saw-tooth; derived.)
 */
public final class Rounding {
  private static final int HARMONICS = 40;
  private static final double SMALLEST_STEP_GRAMS = 1e-6;
  private static final double STEPS_PER_GRAM = 1e6;
  private static final int HALVINGS = 60;

  private Rounding() {}

  /** The display step (g): the least change ever shown; empty when nothing ever changed. */
  public static OptionalDouble findStep(Series shown) {
    double[] values = Arrays.stream(shown.toGrams()).sorted().distinct().toArray();
    double least = Double.POSITIVE_INFINITY;
    for (int i = 1; i < values.length; i++) {
      double change = values[i] - values[i - 1];
      if (change > SMALLEST_STEP_GRAMS) {
        least = Math.min(least, change);
      }
    }
    // differences of decimals are not quite decimal themselves
    return Double.isInfinite(least)
        ? OptionalDouble.empty()
        : OptionalDouble.of(Math.rint(least * STEPS_PER_GRAM) / STEPS_PER_GRAM);
  }

  /**
   * Variance of the rounding error that is left in the mean of many readings (g²).
   *
   * @param step of the display (g), not negative
   * @param noise standard deviation of one reading before rounding (g)
   */
  public static double variance(double step, double noise) {
    if (noise == 0 || step == 0) {
      return step * step / 12;
    }
    double sum = 0;
    for (int k = 1; k <= HARMONICS; k++) {
      double turns = 2 * Math.PI * k * noise / step;
      sum += Math.exp(-turns * turns) / ((double) k * k);
    }
    return step * step / (2 * Math.PI * Math.PI) * sum;
  }

  /**
   * The noise before rounding that makes plateaus scatter as these do (g). A display that hides all
   * its noise gives zero.
   */
  public static double noiseBehind(List<Plateau> plateaus, double step) {
    double seen = pooledVariance(plateaus);
    double low = 0;
    double high = Math.sqrt(seen) + step;
    for (int i = 0; i < HALVINGS; i++) {
      double middle = (low + high) / 2;
      double shown = middle * middle + step * step / 12 - variance(step, middle);
      if (shown < seen) {
        low = middle;
      } else {
        high = middle;
      }
    }
    return high < step * 1e-6 ? 0 : (low + high) / 2;
  }

  /** Variance of one reading within its plateau, over all of them (g²). */
  static double pooledVariance(List<Plateau> plateaus) {
    double squares = 0;
    double freedom = 0;
    for (Plateau plateau : plateaus) {
      squares += plateau.deviation() * plateau.deviation() * (plateau.count() - 2);
      freedom += plateau.count() - 2;
    }
    return freedom == 0 ? 0 : squares / freedom;
  }
}
