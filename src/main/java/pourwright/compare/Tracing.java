package pourwright.compare;

import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import pourwright.detect.Curve;
import pourwright.detect.Findings;
import pourwright.detect.Findings.Pour;

/**
 * Turns readings of the scale under everything into poured water.
 *
 * <p>Only readings within found pours count, from the level at the start of each. The scale trails
 * the water: where water flows evenly, by the flow times its lag. How far shows at the end of each
 * pour, where it still misses part of what was poured; the middle one of these times is taken off
 * all readings. A pour whose readings do not lead to its water (a tare, an object, a gap in it) is
 * left without samples of its own.
 */
final class Tracing {
  /** A lag beyond this would be something else (s). */
  private static final double LAG_SECONDS_MAX = 2;

  /** How long a scale may take to show all water of a pour (s). */
  private static final double SETTLING_SECONDS = 2;

  /** Readings lead to the found water when they come as near as this share of it. */
  private static final double MISMATCH_SHARE = 0.1;

  private final List<Pour> pours;
  private final Curve curve;
  private final long[] atNanos;
  private final long[] nanograms;
  private int size;

  Tracing(Findings findings, Curve curve) {
    this.pours = findings.pours();
    this.curve = curve;
    int most = curve.size() + 2 * pours.size();
    atNanos = new long[most];
    nanograms = new long[most];
  }

  PouredCurve trace() {
    if (pours.isEmpty() || curve.size() == 0) {
      return PouredCurve.NONE;
    }
    long lag = Math.round(lagSeconds() * 1e9);
    long before = 0;
    for (Pour pour : pours) {
      put(pour.start().nanos(), before);
      if (leadsToItsWater(pour)) {
        trace(pour, before, lag);
      }
      before += pour.poured().nanograms();
      put(pour.end().nanos(), before);
    }
    return PouredCurve.of(Arrays.copyOf(atNanos, size), Arrays.copyOf(nanograms, size));
  }

  private void trace(Pour pour, long before, long lag) {
    double base = level(pour.start().nanos());
    long top = before;
    long limit = before + pour.poured().nanograms();
    for (int i = firstFrom(pour.start().nanos() + lag + 1); i < curve.size(); i++) {
      long at = curve.atNanos(i) - lag;
      if (at >= pour.end().nanos()) {
        break;
      }
      long shown = before + Math.round(curve.nanograms(i) - base);
      top = Math.max(top, Math.min(shown, limit));
      put(at, top);
    }
  }

  private void put(long at, long mass) {
    atNanos[size] = size == 0 ? at : Math.max(at, atNanos[size - 1]);
    nanograms[size] = mass;
    size++;
  }

  private boolean leadsToItsWater(Pour pour) {
    double settled = level(pour.end().nanos() + Math.round(SETTLING_SECONDS * 1e9));
    double shown = settled - level(pour.start().nanos());
    double water = pour.poured().nanograms();
    return !pour.acrossGap() && Math.abs(shown - water) <= MISMATCH_SHARE * water;
  }

  /** The middle one of the lags that the ends of the pours show (s). */
  private double lagSeconds() {
    double[] lags =
        pours.stream()
            .filter(this::leadsToItsWater)
            .map(this::lagAtEnd)
            .filter(OptionalDouble::isPresent)
            .mapToDouble(OptionalDouble::getAsDouble)
            .sorted()
            .toArray();
    if (lags.length == 0) {
      return 0;
    }
    double middle = (lags[(lags.length - 1) / 2] + lags[lags.length / 2]) / 2;
    return Math.min(Math.max(middle, 0), LAG_SECONDS_MAX);
  }

  private OptionalDouble lagAtEnd(Pour pour) {
    double flow = pour.meanFlow().nanogramsPerSecond();
    double shown = level(pour.end().nanos()) - level(pour.start().nanos());
    return flow > 0
        ? OptionalDouble.of((pour.poured().nanograms() - shown) / flow)
        : OptionalDouble.empty();
  }

  /** The displayed mass at a moment (ng), on a straight line between readings. */
  private double level(long at) {
    int next = firstFrom(at);
    if (next == 0) {
      return curve.nanograms(0);
    }
    if (next == curve.size()) {
      return curve.nanograms(next - 1);
    }
    double span = (double) curve.atNanos(next) - curve.atNanos(next - 1);
    double along = (at - curve.atNanos(next - 1)) / span;
    return curve.nanograms(next - 1)
        + along * ((double) curve.nanograms(next) - curve.nanograms(next - 1));
  }

  private int firstFrom(long at) {
    int low = 0;
    int high = curve.size();
    while (low < high) {
      int middle = (low + high) >>> 1;
      if (curve.atNanos(middle) < at) {
        low = middle + 1;
      } else {
        high = middle;
      }
    }
    return low;
  }
}
