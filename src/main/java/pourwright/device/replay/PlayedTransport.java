package pourwright.device.replay;

import java.io.IOException;
import java.time.Duration;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;
import pourwright.device.Bytes;
import pourwright.device.Transport;
import pourwright.units.SessionTime;

/**
 * Plays a source at a chosen speed. Every arrival keeps the time the source gives it, so what is
 * found in it does not depend on the speed; the clock only decides how long {@link #receive} waits.
 */
public final class PlayedTransport implements Transport {
  private final ArrivalSource source;
  private final double speed;

  private @Nullable Arrival next;
  private boolean hasStarted;
  private boolean hasEnded;
  private long startNanos;
  private SessionTime origin = SessionTime.ZERO;
  private SessionTime last = SessionTime.ZERO;

  /**
   * @param speed times as fast as it was; 0 as fast as it is taken
   */
  public PlayedTransport(ArrivalSource source, double speed) {
    if (!(speed >= 0 && speed < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException("speed must be 0 or more, not " + speed);
    }
    this.source = source;
    this.speed = speed;
  }

  @Override
  public Arrival receive(Duration patience) throws InterruptedException {
    if (next == null && !hasEnded) {
      next = fetch();
    }
    if (next == null) {
      return new Arrival.Ended(last);
    }
    if (!hasStarted) {
      hasStarted = true;
      origin = next.at();
      last = origin;
      startNanos = System.nanoTime();
    }
    if (speed > 0 && !waitFor(next.at(), patience)) {
      return new Arrival.Silence(last);
    }
    Arrival now = next;
    next = null;
    last = now.at();
    return now;
  }

  /** Whether the moment of {@code at} has come within the patience. */
  private boolean waitFor(SessionTime at, Duration patience) throws InterruptedException {
    long due = Math.round((at.nanos() - origin.nanos()) / speed);
    long left = due - (System.nanoTime() - startNanos);
    TimeUnit.NANOSECONDS.sleep(Math.min(left, patience.toNanos()));
    if (left <= patience.toNanos()) {
      return true;
    }
    long played = origin.nanos() + Math.round((System.nanoTime() - startNanos) * speed);
    SessionTime position = SessionTime.ofNanos(Math.min(at.nanos(), played));
    last = position.isAfter(last) ? position : last;
    return false;
  }

  private @Nullable Arrival fetch() {
    try {
      Optional<Arrival> fetched = source.next();
      hasEnded = fetched.isEmpty();
      return fetched.orElse(null);
    } catch (IOException unreadable) {
      hasEnded = true;
      return new Arrival.Lost(last, String.valueOf(unreadable.getMessage()));
    }
  }

  @Override
  public void send(Bytes command) {
    source.heed(command);
  }

  @Override
  public void close() {
    source.close();
  }
}
