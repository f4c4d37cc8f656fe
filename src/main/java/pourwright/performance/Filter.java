package pourwright.performance;

/** Shapes in which a scale's smoothing answers a sudden load; the time by which it lags is one. */
public enum Filter {
  /** First order: one exponential. */
  FIRST {
    @Override
    double integral(double x, double lag) {
      return x - lag * (1 - Math.exp(-x / lag));
    }

    @Override
    double median(double lag) {
      return lag * Math.log(2);
    }
  },
  /** Second order: two equal exponentials one after the other. */
  SECOND {
    @Override
    double integral(double x, double lag) {
      double tau = lag / 2;
      return x - lag + (x + lag) * Math.exp(-x / tau);
    }

    @Override
    double median(double lag) {
      // 1 − (1 + x) e^−x = ½ at x = 1.678 347
      return 0.8391735 * lag;
    }
  },
  /** A moving average: a straight ramp. */
  WINDOW {
    @Override
    double integral(double x, double lag) {
      double length = 2 * lag;
      return x < length ? x * x / (2 * length) : x - lag;
    }

    @Override
    double median(double lag) {
      return lag;
    }
  };

  /** Integral of the answer to a unit step, from the step to {@code x} seconds after it. */
  abstract double integral(double x, double lag);

  /** When the answer to a step passes the half (s after it). */
  abstract double median(double lag);

  /** Time constant that belongs to a lag (s); for a moving average its length. */
  public double timeConstant(double lag) {
    return switch (this) {
      case FIRST -> lag;
      case SECOND -> lag / 2;
      case WINDOW -> 2 * lag;
    };
  }

  /**
   * The share shown {@code x} seconds after the middle of a hand movement that takes {@code hand}
   * seconds.
   */
  double answer(double x, double lag, double hand) {
    double end = x + hand / 2;
    if (end <= 0) {
      return 0;
    }
    double start = x - hand / 2;
    return (integral(end, lag) - (start <= 0 ? 0 : integral(start, lag))) / hand;
  }
}
