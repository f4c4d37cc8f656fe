package pourwright.bench;

/** A scale's own smoothing: one value in, one value out, on the fine grid. */
interface Lag {
  double next(double grams);

  /** A lag of fewer steps is too short for its shape to show, or to be computed. */
  int COARSE_STEPS = 8;

  enum Kind {
    FIRST_ORDER,
    SECOND_ORDER,
    UNDERDAMPED,
    MOVING_AVERAGE,
    TWO_AVERAGES
  }

  /**
   * A smoothing that runs {@code lagSeconds} behind a steady ramp.
   *
   * @param stepSeconds time between two values (s)
   */
  static Lag of(Kind kind, double lagSeconds, double stepSeconds) {
    if (lagSeconds < stepSeconds) {
      return grams -> grams;
    }
    if (lagSeconds < COARSE_STEPS * stepSeconds) {
      return firstOrder(lagSeconds, stepSeconds);
    }
    return switch (kind) {
      case FIRST_ORDER -> firstOrder(lagSeconds, stepSeconds);
      case SECOND_ORDER ->
          chain(firstOrder(lagSeconds / 2, stepSeconds), firstOrder(lagSeconds / 2, stepSeconds));
      case UNDERDAMPED -> underdamped(lagSeconds, 0.75, stepSeconds);
      case MOVING_AVERAGE -> movingAverage(2 * lagSeconds, stepSeconds);
      case TWO_AVERAGES ->
          chain(movingAverage(lagSeconds, stepSeconds), movingAverage(lagSeconds, stepSeconds));
    };
  }

  private static Lag chain(Lag first, Lag second) {
    return grams -> second.next(first.next(grams));
  }

  private static Lag firstOrder(double tauSeconds, double stepSeconds) {
    double gain = 1 - Math.exp(-stepSeconds / tauSeconds);
    return new Lag() {
      private double held = Double.NaN;

      @Override
      public double next(double grams) {
        held = Double.isNaN(held) ? grams : held + gain * (grams - held);
        return held;
      }
    };
  }

  /** Mass on a damped spring; the lag behind a ramp is 2·damping/frequency. */
  private static Lag underdamped(double lagSeconds, double damping, double stepSeconds) {
    double frequency = 2 * damping / lagSeconds;
    return new Lag() {
      private double position = Double.NaN;
      private double speed;

      @Override
      public double next(double grams) {
        if (Double.isNaN(position)) {
          position = grams;
        }
        speed +=
            stepSeconds
                * (frequency * frequency * (grams - position) - 2 * damping * frequency * speed);
        position += stepSeconds * speed;
        return position;
      }
    };
  }

  private static Lag movingAverage(double windowSeconds, double stepSeconds) {
    double[] window = new double[Math.max(1, (int) Math.round(windowSeconds / stepSeconds))];
    return new Lag() {
      private int filled;
      private int oldest;
      private double sum;

      @Override
      public double next(double grams) {
        if (filled == 0) {
          java.util.Arrays.fill(window, grams);
          sum = grams * window.length;
          filled = window.length;
        }
        sum += grams - window[oldest];
        window[oldest] = grams;
        oldest = (oldest + 1) % window.length;
        return sum / window.length;
      }
    };
  }
}
