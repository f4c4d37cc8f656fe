package pourwright.units;

import java.math.BigDecimal;
import java.time.Duration;

/**
 * A moment of one recording, counted from its start by a monotonic clock.
 *
 * <p>Says nothing about the time of day; a run has one wall-clock stamp of its own.
 *
 * @param nanos time since the start of the recording (ns)
 */
public record SessionTime(long nanos) implements Comparable<SessionTime> {
  public static final SessionTime ZERO = new SessionTime(0);

  private static final double NANOS_PER_SECOND = 1e9;

  public static SessionTime ofNanos(long nanos) {
    return new SessionTime(nanos);
  }

  public static SessionTime ofMicros(long micros) {
    return new SessionTime(Math.multiplyExact(micros, 1_000L));
  }

  public static SessionTime ofMillis(long millis) {
    return new SessionTime(Math.multiplyExact(millis, 1_000_000L));
  }

  /**
   * The nearest whole nanosecond.
   *
   * @param seconds finite time (s)
   * @throws ArithmeticException when not finite or out of range
   */
  public static SessionTime ofSeconds(double seconds) {
    return new SessionTime(Rounding.nearest(seconds, NANOS_PER_SECOND, "time", "s"));
  }

  public SessionTime plus(Duration later) {
    return new SessionTime(Math.addExact(nanos, later.toNanos()));
  }

  public SessionTime plusSeconds(double seconds) {
    return new SessionTime(Math.addExact(nanos, ofSeconds(seconds).nanos));
  }

  /** How long after {@code earlier} this is; negative when it is before. */
  public Duration since(SessionTime earlier) {
    return Duration.ofNanos(Math.subtractExact(nanos, earlier.nanos));
  }

  /** How long after {@code earlier} this is (s); negative when it is before. */
  public double secondsSince(SessionTime earlier) {
    return Math.subtractExact(nanos, earlier.nanos) / NANOS_PER_SECOND;
  }

  public boolean isBefore(SessionTime other) {
    return nanos < other.nanos;
  }

  public boolean isAfter(SessionTime other) {
    return nanos > other.nanos;
  }

  /** For arithmetic that is not exact anyway, and for the edges (s). */
  public double seconds() {
    return nanos / NANOS_PER_SECOND;
  }

  @Override
  public int compareTo(SessionTime other) {
    return Long.compare(nanos, other.nanos);
  }

  /** Exact, with its unit: {@code 4.12 s}. */
  @Override
  public String toString() {
    return BigDecimal.valueOf(nanos, 9).stripTrailingZeros().toPlainString() + " s";
  }
}
