package pourwright.stage;

import java.time.Duration;
import java.util.function.LongSupplier;

/**
 * How long a search may go on, by a clock of the caller's.
 *
 * @param nanoClock monotonic (ns)
 * @param untilNanos on that clock
 */
public record Patience(LongSupplier nanoClock, long untilNanos) {

  static final Patience ENDLESS = new Patience(() -> 0, Long.MAX_VALUE);

  /** From now on. */
  public static Patience of(Duration span, LongSupplier nanoClock) {
    return new Patience(nanoClock, nanoClock.getAsLong() + span.toNanos());
  }

  public boolean isOver() {
    return nanoClock.getAsLong() >= untilNanos;
  }

  /** One of {@code parts} equal shares of what is left. */
  Patience share(int parts) {
    long now = nanoClock.getAsLong();
    return new Patience(nanoClock, now + Math.max(0, untilNanos - now) / parts);
  }
}
