package pourwright.chart;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * Values along one side of a chart.
 *
 * @param from value at {@code start}
 * @param to value at {@code end}, more than {@code from}
 * @param start place in the drawing
 * @param end place in the drawing; less than {@code start} for an axis that rises
 */
record Axis(double from, double to, double start, double end) {

  Axis {
    if (!(from < to)) {
      throw new IllegalArgumentException("an axis from " + from + " to " + to);
    }
  }

  double at(double value) {
    return start + (value - from) / (to - from) * (end - start);
  }

  /** Inside the axis, however far out the value lies. */
  double clipped(double value) {
    return at(Math.max(from, Math.min(to, value)));
  }

  /** Round values on the axis, about {@code wanted} of them. */
  List<Double> ticks(int wanted) {
    double step = step(wanted);
    List<Double> ticks = new ArrayList<>();
    long first = (long) Math.ceil(from / step - 1e-9);
    long last = (long) Math.floor(to / step + 1e-9);
    for (long i = first; i <= last; i++) {
      ticks.add(i * step);
    }
    return ticks;
  }

  /** A tick with as many decimals as its neighbours need. */
  String label(double tick, int wanted) {
    int decimals = (int) Math.max(0, Math.ceil(-Math.log10(step(wanted)) - 1e-9));
    String digits = String.format(Locale.ROOT, "%." + decimals + "f", Math.abs(tick));
    return tick < 0 && digits.chars().anyMatch(digit -> digit >= '1') ? "−" + digits : digits;
  }

  private double step(int wanted) {
    double raw = (to - from) / wanted;
    double power = Math.pow(10, Math.floor(Math.log10(raw)));
    double[] round = {1, 2, 5};
    for (double each : round) {
      if (raw <= each * power * (1 + 1e-9)) {
        return each * power;
      }
    }
    return 10 * power;
  }
}
