package pourwright.web;

import java.time.Duration;
import java.util.ArrayDeque;
import java.util.List;
import pourwright.device.Bytes;
import pourwright.device.Transport;
import pourwright.units.SessionTime;

/** Plays arrivals up to the moment that a test has given free, then stays quiet. */
public final class HeldTransport implements Transport {
  private final ArrayDeque<Arrival> left;
  private SessionTime last = SessionTime.ZERO;
  private SessionTime free = SessionTime.ofNanos(-1);

  public HeldTransport(List<Arrival> arrivals) {
    left = new ArrayDeque<>(arrivals);
  }

  /** Gives everything up to this moment of the recording free (s). */
  public synchronized void playTo(double seconds) {
    free = SessionTime.ofSeconds(seconds);
    notifyAll();
  }

  @Override
  public synchronized Arrival receive(Duration patience) throws InterruptedException {
    Arrival next = left.peek();
    if (next == null) {
      return new Arrival.Ended(last);
    }
    long deadline = System.nanoTime() + patience.toNanos();
    while (next.at().isAfter(free)) {
      long leftMillis = (deadline - System.nanoTime()) / 1_000_000;
      if (leftMillis <= 0) {
        return new Arrival.Silence(last);
      }
      wait(leftMillis);
    }
    left.poll();
    last = next.at();
    return next;
  }

  @Override
  public void send(Bytes command) {}

  @Override
  public void close() {}
}
