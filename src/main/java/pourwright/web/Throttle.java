package pourwright.web;

import java.util.function.LongSupplier;

/** Lets a burst through, then a steady rate (a token bucket). */
final class Throttle {
  private final double burst;
  private final double perSecond;
  private final LongSupplier nanoClock;
  private double left;
  private long countedAtNanos;

  /**
   * A full bucket.
   *
   * @param burst how many may pass at once
   * @param perSecond how many may pass in the long run (1/s)
   * @param nanoClock monotonic (ns)
   */
  Throttle(int burst, double perSecond, LongSupplier nanoClock) {
    this.burst = burst;
    this.perSecond = perSecond;
    this.nanoClock = nanoClock;
    this.left = burst;
    this.countedAtNanos = nanoClock.getAsLong();
  }

  synchronized boolean tryPass() {
    long now = nanoClock.getAsLong();
    left = Math.min(burst, left + perSecond * (now - countedAtNanos) / 1e9);
    countedAtNanos = now;
    if (left < 1) {
      return false;
    }
    left--;
    return true;
  }
}
