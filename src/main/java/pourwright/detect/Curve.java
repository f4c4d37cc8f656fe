package pourwright.detect;

import java.util.Arrays;
import pourwright.rig.Place;

/**
 * All readings of one place, in the order in which they arrived; grows while it is filled.
 *
 * <p>Arrays of primitives, because an hour at 80 readings a second is 288 000 of them.
 */
public final class Curve {
  private final Place place;
  private long[] atNanos;
  private long[] nanograms;
  private int size;

  public Curve(Place place) {
    this(place, 1024);
  }

  public Curve(Place place, int expectedReadings) {
    this.place = place;
    this.atNanos = new long[Math.max(16, expectedReadings)];
    this.nanograms = new long[atNanos.length];
  }

  /**
   * Appends one reading.
   *
   * @param at time of arrival (ns), never before the one added last
   * @param mass displayed mass (ng)
   * @throws IllegalArgumentException when time goes back
   */
  public void add(long at, long mass) {
    if (size > 0 && at < atNanos[size - 1]) {
      throw new IllegalArgumentException("time goes back in reading " + (size + 1));
    }
    if (size == atNanos.length) {
      atNanos = Arrays.copyOf(atNanos, 2 * size);
      nanograms = Arrays.copyOf(nanograms, 2 * size);
    }
    atNanos[size] = at;
    nanograms[size] = mass;
    size++;
  }

  public Place place() {
    return place;
  }

  public int size() {
    return size;
  }

  /** Arrival of reading {@code index} (ns). */
  public long atNanos(int index) {
    return atNanos[index];
  }

  /** Mass of reading {@code index} (ng). */
  public long nanograms(int index) {
    return nanograms[index];
  }
}
