package pourwright.device;

import pourwright.units.SessionTime;

/** The one monotonic clock of a recording; every link of a rehearsal stamps its bytes from it. */
@FunctionalInterface
public interface SessionClock {
  SessionTime now();

  /** A clock that stands at zero now. */
  static SessionClock start() {
    long zero = System.nanoTime();
    return () -> SessionTime.ofNanos(System.nanoTime() - zero);
  }
}
