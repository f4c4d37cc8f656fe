package pourwright.compare;

import java.util.Arrays;
import java.util.List;
import pourwright.detect.Curve;
import pourwright.detect.Findings;
import pourwright.rig.Place;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * All water poured so far, over the time of a recording: disturbances, tares and lag taken out.
 *
 * <p>Between its samples it is read as a straight line, outside of them it stays level.
 */
public final class PouredCurve {
  /** No samples: pours are then taken to run straight from their start to their end. */
  public static final PouredCurve NONE = new PouredCurve(new long[0], new long[0]);

  private final long[] atNanos;
  private final long[] nanograms;

  private PouredCurve(long[] atNanos, long[] nanograms) {
    this.atNanos = atNanos;
    this.nanograms = nanograms;
  }

  /**
   * A curve through samples.
   *
   * @param atNanos times of the recording (ns), never decreasing
   * @param nanograms poured by then (ng), as many as times
   * @throws IllegalArgumentException when the lengths differ or a time goes back
   */
  public static PouredCurve of(long[] atNanos, long[] nanograms) {
    if (atNanos.length != nanograms.length) {
      throw new IllegalArgumentException(
          atNanos.length + " times do not fit " + nanograms.length + " masses");
    }
    for (int i = 1; i < atNanos.length; i++) {
      if (atNanos[i] < atNanos[i - 1]) {
        throw new IllegalArgumentException("time goes back at sample " + i);
      }
    }
    return new PouredCurve(atNanos.clone(), nanograms.clone());
  }

  /**
   * The curve that readings show, given what was found in them; {@link #NONE} when no scale stood
   * under everything, since outflow does not show how the water was poured.
   *
   * @param curves all readings, on the clock of the findings
   */
  public static PouredCurve of(Findings findings, List<Curve> curves) {
    return curves.stream()
        .filter(curve -> curve.place() == Place.WHOLE)
        .findFirst()
        .map(curve -> new Tracing(findings, curve).trace())
        .orElse(NONE);
  }

  public boolean isEmpty() {
    return atNanos.length == 0;
  }

  int size() {
    return atNanos.length;
  }

  SessionTime timeOf(int sample) {
    return new SessionTime(atNanos[sample]);
  }

  /** The first sample at or after {@code at}; {@link #size} when there is none. */
  int firstFrom(SessionTime at) {
    int low = 0;
    int high = atNanos.length;
    while (low < high) {
      int middle = (low + high) >>> 1;
      if (atNanos[middle] < at.nanos()) {
        low = middle + 1;
      } else {
        high = middle;
      }
    }
    return low;
  }

  /**
   * Poured by {@code at}.
   *
   * @throws IllegalStateException when there are no samples
   */
  public Mass massAt(SessionTime at) {
    if (isEmpty()) {
      throw new IllegalStateException("a curve without samples has no mass");
    }
    int next = firstFrom(at);
    if (next == 0) {
      return new Mass(nanograms[0]);
    }
    if (next == atNanos.length) {
      return new Mass(nanograms[next - 1]);
    }
    double along = (at.nanos() - atNanos[next - 1]) / (double) (atNanos[next] - atNanos[next - 1]);
    return new Mass(
        nanograms[next - 1] + Math.round(along * (nanograms[next] - nanograms[next - 1])));
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof PouredCurve that
        && Arrays.equals(atNanos, that.atNanos)
        && Arrays.equals(nanograms, that.nanograms);
  }

  @Override
  public int hashCode() {
    return 31 * Arrays.hashCode(atNanos) + Arrays.hashCode(nanograms);
  }

  @Override
  public String toString() {
    return "poured curve of " + atNanos.length + " samples";
  }
}
