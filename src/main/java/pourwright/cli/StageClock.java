package pourwright.cli;

import java.util.OptionalDouble;
import java.util.function.LongSupplier;

/** The stage clock of a mock run; several threads look at it. */
final class StageClock {
  private static final double NANOS_PER_SECOND = 1e9;

  private final LongSupplier nanoClock;
  private final double speed;
  private boolean isRunning;
  private boolean isStarted;
  private long sinceNanos;
  private double before;

  /**
   * @param speed seconds of the stage in one second; 0 for a clock that is only led
   */
  StageClock(LongSupplier nanoClock, double speed) {
    this.nanoClock = nanoClock;
    this.speed = speed;
  }

  double speed() {
    return speed;
  }

  /** Starts at a time of the stage (s), or goes on where it was stopped. */
  synchronized void start() {
    startAt(before);
  }

  /** Starts with the clock at a time of the stage (s); a running clock is left alone. */
  synchronized void startAt(double seconds) {
    if (!isRunning) {
      before = seconds;
      sinceNanos = nanoClock.getAsLong();
      isRunning = true;
      isStarted = true;
    }
  }

  /** Goes on from a time of the stage, running or not (s). */
  synchronized void lead(double seconds) {
    isRunning = false;
    startAt(seconds);
  }

  synchronized void stop() {
    if (isRunning) {
      before = now();
      isRunning = false;
    }
  }

  /** Back to the moment before the start. */
  synchronized void reset() {
    isRunning = false;
    isStarted = false;
    before = 0;
  }

  synchronized boolean isRunning() {
    return isRunning;
  }

  /** Seconds of the stage; empty before the start. */
  synchronized OptionalDouble seconds() {
    return isStarted ? OptionalDouble.of(now()) : OptionalDouble.empty();
  }

  private double now() {
    return isRunning
        ? before + speed * (nanoClock.getAsLong() - sinceNanos) / NANOS_PER_SECOND
        : before;
  }
}
