package pourwright.stage;

import pourwright.units.Mass;

/**
 * The one kettle.
 *
 * @param full what it holds when the clock starts and after each refill
 * @param keep what must stay in it, for a steady stream to the end of a pour
 * @param refillSeconds hands busy with a refill
 * @param reheatSeconds after a refill until it may pour again; the hands are free
 */
public record Kettle(Mass full, Mass keep, int refillSeconds, int reheatSeconds) {
  public static final Kettle COMMON = new Kettle(Mass.ofGrams(900), Mass.ofGrams(80), 10, 60);

  public Kettle {
    if (keep.isNegative() || full.compareTo(keep) <= 0) {
      throw new IllegalArgumentException("a kettle of " + full + " of which " + keep + " stays");
    }
    if (refillSeconds < 0 || reheatSeconds < 0) {
      throw new IllegalArgumentException("times of the kettle must not be negative");
    }
  }

  /** What can be poured from full. */
  public Mass usable() {
    return full.minus(keep);
  }
}
