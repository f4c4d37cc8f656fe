package pourwright.device;

import pourwright.units.SessionTime;

/**
 * The one monotonic clock of a recording; every link of a rehearsal stamps its bytes from it.
 *
 * <p>It counts whole microseconds: links are later than that by a thousand times, and digits that
 * are pure chance cannot be kept in few bytes.
 */
@FunctionalInterface
public interface SessionClock {
  SessionTime now();

  /** A clock that stands at zero now. */
  static SessionClock start() {
    long zero = System.nanoTime();
    return () -> SessionTime.ofMicros((System.nanoTime() - zero) / 1_000);
  }
}
