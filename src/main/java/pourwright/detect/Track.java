package pourwright.detect;

import java.util.Arrays;
import pourwright.units.SessionTime;

/**
 * A finished recording of one place as plain numbers: times given back to the readings of a bursty
 * link, masses in grams above the first reading, and the scatter of the scale.
 */
final class Track {
  /** Median of |x| for a standard normal x. */
  private static final double MEDIAN_OF_NORMAL = 0.6745;

  /** Neighbours that share the clock of a reading (readings to each side). */
  private static final int CLOCK_REACH = 40;

  /** A link whose readings come closer than this part of the mean interval is bursty. */
  private static final double BURST_PART = 0.3;

  /** Longer without readings, and they were lost, not held up (s); as the live detector. */
  private static final double LEAST_GAP = 1.2;

  final long baseNanos;
  final long baseNanograms;
  private final double[] time;
  private final double[] mass;
  private final boolean[] masked;
  private final double period;
  private final double noise;
  private final double resolution;

  Track(Curve curve) {
    int n = curve.size();
    baseNanos = n == 0 ? 0 : curve.atNanos(0);
    baseNanograms = n == 0 ? 0 : curve.nanograms(0);
    double[] arrival = new double[n];
    mass = new double[n];
    for (int i = 0; i < n; i++) {
      arrival[i] = (curve.atNanos(i) - baseNanos) * 1e-9;
      mass[i] = (curve.nanograms(i) - baseNanograms) * 1e-9;
    }
    masked = new boolean[n];
    period = meanPeriod(arrival);
    time = isBursty(arrival, period) ? givenBack(arrival) : arrival;
    resolution = smallestStep(mass);
    noise = scatter(mass, resolution);
  }

  /** Mean time between readings, gaps left out (s). */
  private static double meanPeriod(double[] arrival) {
    double sum = 0;
    int n = 0;
    for (int i = 1; i < arrival.length; i++) {
      double wait = arrival[i] - arrival[i - 1];
      if (wait < LEAST_GAP) {
        sum += wait;
        n++;
      }
    }
    return n == 0 || sum == 0 ? 0.1 : sum / n;
  }

  private static boolean isBursty(double[] arrival, double period) {
    int close = 0;
    for (int i = 1; i < arrival.length; i++) {
      if (arrival[i] - arrival[i - 1] < BURST_PART * period) {
        close++;
      }
    }
    return close > arrival.length / 10;
  }

  /**
   * A link only delays, and the scale counts evenly: no reading is later than any neighbour's
   * arrival less the periods between them. The lowest of these bounds is taken.
   */
  private static double[] givenBack(double[] arrival) {
    int n = arrival.length;
    double[] taken = new double[n];
    int from = 0;
    while (from < n) {
      int to = from + 1;
      while (to < n && arrival[to] - arrival[to - 1] < LEAST_GAP) {
        to++;
      }
      for (int i = from; i < to; i++) {
        int low = Math.max(from, i - CLOCK_REACH);
        int high = Math.min(to - 1, i + CLOCK_REACH);
        double step = localPeriod(arrival, low, high);
        double bound = arrival[i];
        for (int j = low; j <= high; j++) {
          bound = Math.min(bound, arrival[j] + (i - j) * step);
        }
        taken[i] = i > from ? Math.max(bound, taken[i - 1]) : bound;
      }
      from = to;
    }
    return taken;
  }

  /** Least squares slope of arrival over count (s). */
  private static double localPeriod(double[] arrival, int low, int high) {
    LeastSquares sums = new LeastSquares();
    for (int j = low; j <= high; j++) {
      sums.add(j - low, arrival[j] - arrival[low]);
    }
    return sums.slope();
  }

  private static double smallestStep(double[] mass) {
    double step = Double.POSITIVE_INFINITY;
    for (int i = 1; i < mass.length; i++) {
      double change = Math.abs(mass[i] - mass[i - 1]);
      if (change > 1e-6 && change < step) {
        step = change;
      }
    }
    return Double.isInfinite(step) ? 0 : step;
  }

  private static double scatter(double[] mass, double resolution) {
    int n = Math.max(0, mass.length - 2);
    double[] second = new double[n];
    for (int i = 0; i < n; i++) {
      second[i] = Math.abs(mass[i + 2] - 2 * mass[i + 1] + mass[i]);
    }
    Arrays.sort(second);
    double median = n == 0 ? 0 : second[n / 2];
    double sigma = median / (MEDIAN_OF_NORMAL * Math.sqrt(6));
    return Math.max(Signal.Scatter.FLOOR, Math.max(resolution / Math.sqrt(12), sigma));
  }

  int size() {
    return time.length;
  }

  /** A moment of the session on the clock of this track (s). */
  double seconds(SessionTime at) {
    return (at.nanos() - baseNanos) * 1e-9;
  }

  SessionTime moment(double seconds) {
    return SessionTime.ofNanos(Math.max(0, baseNanos + Math.round(seconds * 1e9)));
  }

  double time(int i) {
    return time[i];
  }

  double mass(int i) {
    return mass[i];
  }

  double last() {
    return time.length == 0 ? 0 : time[time.length - 1];
  }

  double period() {
    return period;
  }

  /** Standard deviation of one reading at rest (g). */
  double noise() {
    return noise;
  }

  double resolution() {
    return resolution;
  }

  /** Index of the first reading at or after {@code t}. */
  int indexAt(double t) {
    int low = 0;
    int high = time.length;
    while (low < high) {
      int middle = (low + high) >>> 1;
      if (time[middle] < t) {
        low = middle + 1;
      } else {
        high = middle;
      }
    }
    return low;
  }

  /** Leaves the readings of a disturbance out of every fit. */
  void mask(double from, double to) {
    for (int i = indexAt(from); i < time.length && time[i] <= to; i++) {
      masked[i] = true;
    }
  }

  boolean isMasked(int i) {
    return masked[i];
  }

  /** Straight line through the unmasked readings of a stretch. */
  Line line(double from, double to) {
    double middle = (from + to) / 2;
    LeastSquares sums = new LeastSquares();
    for (int i = indexAt(from); i < time.length && time[i] <= to; i++) {
      if (!masked[i]) {
        sums.add(time[i] - middle, mass[i]);
      }
    }
    int n = sums.count();
    if (n == 0) {
      return new Line(middle, Double.NaN, 0, 0, 0);
    }
    if (n < 3) {
      return new Line(middle, sums.sumY() / n, 0, n, 0);
    }
    return new Line(middle, sums.intercept(), sums.slope(), n, sums.residual());
  }

  /**
   * A fitted line.
   *
   * @param middle (s)
   * @param level at the middle (g)
   * @param slope (g/s)
   * @param readings it was fitted to
   * @param squares sum of squared residuals (g²)
   */
  record Line(double middle, double level, double slope, int readings, double squares) {
    double at(double t) {
      return level + slope * (t - middle);
    }
  }
}
