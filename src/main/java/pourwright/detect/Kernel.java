package pourwright.detect;

/**
 * How a scale smooths: what it shows when the load steps, ramps or bends at time 0. The shapes are
 * those that scales are built with: one to three RC stages, one or two moving averages, a platform
 * that swings before it rests.
 */
sealed interface Kernel {
  /** Mean delay (s). */
  double lag();

  /** Shown for a load that steps from 0 to 1 at 0. */
  double step(double x);

  /** Shown for the load x from 0 on. */
  double ramp(double x);

  /** Shown for the load x²/2 from 0 on. */
  double bend(double x);

  /** Half the mean square of the delay (s²): constant part of what a load x²/2 shows for ever. */
  double halfSquare();

  /** The families, for searching. */
  enum Kind {
    ONE_STAGE,
    TWO_STAGES,
    THREE_STAGES,
    ONE_AVERAGE,
    TWO_AVERAGES,
    SWINGING;

    Kernel of(double lagSeconds) {
      double lag = Math.max(1e-3, lagSeconds);
      return switch (this) {
        case ONE_STAGE -> new OneStage(lag);
        case TWO_STAGES -> new TwoStages(lag);
        case THREE_STAGES -> new ThreeStages(lag);
        case ONE_AVERAGE -> new OneAverage(lag);
        case TWO_AVERAGES -> new TwoAverages(lag);
        case SWINGING -> new Swinging(lag);
      };
    }
  }

  /** First order: the tail is an exponential. */
  record OneStage(double lag) implements Kernel {
    @Override
    public double step(double x) {
      return x <= 0 ? 0 : -Math.expm1(-x / lag);
    }

    @Override
    public double ramp(double x) {
      return x <= 0 ? 0 : x + lag * Math.expm1(-x / lag);
    }

    @Override
    public double bend(double x) {
      return x <= 0 ? 0 : x * x / 2 - lag * ramp(x);
    }

    @Override
    public double halfSquare() {
      return lag * lag;
    }
  }

  /** Two equal stages of first order. */
  record TwoStages(double lag) implements Kernel {
    @Override
    public double step(double x) {
      double z = 2 * x / lag;
      return x <= 0 ? 0 : 1 - (1 + z) * Math.exp(-z);
    }

    @Override
    public double ramp(double x) {
      return x <= 0 ? 0 : x - lag + (lag + x) * Math.exp(-2 * x / lag);
    }

    @Override
    public double bend(double x) {
      double a = lag / 2;
      return x <= 0 ? 0 : x * x / 2 - lag * x + 3 * a * a - (3 * a * a + a * x) * Math.exp(-x / a);
    }

    @Override
    public double halfSquare() {
      return 0.75 * lag * lag;
    }
  }

  /** Three equal stages of first order. */
  record ThreeStages(double lag) implements Kernel {
    @Override
    public double step(double x) {
      double z = 3 * x / lag;
      return x <= 0 ? 0 : 1 - (1 + z + z * z / 2) * Math.exp(-z);
    }

    @Override
    public double ramp(double x) {
      double z = 3 * x / lag;
      return x <= 0 ? 0 : x - lag + lag / 3 * (3 + 2 * z + z * z / 2) * Math.exp(-z);
    }

    @Override
    public double bend(double x) {
      double z = 3 * x / lag;
      double fading = lag * lag / 9 * (6 + 3 * z + z * z / 2) * Math.exp(-z);
      return x <= 0 ? 0 : x * x / 2 - lag * x + halfSquare() - fading;
    }

    @Override
    public double halfSquare() {
      return 2 * lag * lag / 3;
    }
  }

  /** A moving average over twice the lag. */
  record OneAverage(double lag) implements Kernel {
    @Override
    public double step(double x) {
      return (power(x, 1) - power(x - 2 * lag, 1)) / (2 * lag);
    }

    @Override
    public double ramp(double x) {
      return (power(x, 2) - power(x - 2 * lag, 2)) / (2 * lag);
    }

    @Override
    public double bend(double x) {
      return (power(x, 3) - power(x - 2 * lag, 3)) / (2 * lag);
    }

    @Override
    public double halfSquare() {
      return 2 * lag * lag / 3;
    }
  }

  /** A moving average of a moving average, each over the lag. */
  record TwoAverages(double lag) implements Kernel {
    @Override
    public double step(double x) {
      return twice(x, 2);
    }

    @Override
    public double ramp(double x) {
      return twice(x, 3);
    }

    @Override
    public double bend(double x) {
      return twice(x, 4);
    }

    private double twice(double x, int order) {
      return (power(x, order) - 2 * power(x - lag, order) + power(x - 2 * lag, order))
          / (lag * lag);
    }

    @Override
    public double halfSquare() {
      return 7 * lag * lag / 12;
    }
  }

  /** Second order with a damping of 0.72: it overshoots a step by four hundredths. */
  record Swinging(double lag) implements Kernel {
    private static final double DAMPING = 0.72;
    private static final double SWAY = Math.sqrt(1 - DAMPING * DAMPING);

    private double frequency() {
      return 2 * DAMPING / lag;
    }

    private double fading(double x, double cosine, double sine) {
      double w = frequency();
      double turn = SWAY * w * x;
      return Math.exp(-DAMPING * w * x) * (cosine * Math.cos(turn) + sine * Math.sin(turn));
    }

    @Override
    public double step(double x) {
      return x <= 0 ? 0 : 1 - fading(x, 1, DAMPING / SWAY);
    }

    @Override
    public double ramp(double x) {
      double sine = (2 * DAMPING * DAMPING - 1) / (frequency() * SWAY);
      return x <= 0 ? 0 : x - lag + fading(x, lag, sine);
    }

    @Override
    public double bend(double x) {
      double w = frequency();
      double sine = (lag - DAMPING * w * halfSquare()) / (SWAY * w);
      return x <= 0 ? 0 : x * x / 2 - lag * x + halfSquare() + fading(x, -halfSquare(), sine);
    }

    @Override
    public double halfSquare() {
      double w = frequency();
      return (4 * DAMPING * DAMPING - 1) / (w * w);
    }
  }

  /** x to the order over its factorial, from 0 on. */
  private static double power(double x, int order) {
    if (x <= 0) {
      return 0;
    }
    return switch (order) {
      case 1 -> x;
      case 2 -> x * x / 2;
      case 3 -> x * x * x / 6;
      default -> x * x * x * x / 24;
    };
  }
}
