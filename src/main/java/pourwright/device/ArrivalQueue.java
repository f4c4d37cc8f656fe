package pourwright.device;

import java.time.Duration;
import java.util.ArrayDeque;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.Lock;
import java.util.concurrent.locks.ReentrantLock;
import java.util.function.Function;
import pourwright.device.Transport.Arrival;
import pourwright.units.SessionTime;

/**
 * Stands between the thread that hears a device and the one that takes what it said.
 *
 * <p>Bytes are stamped as they enter, before anything else is done with them, so a slow taker never
 * bends time. Stamp and order are settled under one lock: once {@link #take} has answered that
 * nothing came up to some moment, nothing from before it can follow. Bounded: while it is full, the
 * hearing thread waits and the operating system keeps the bytes.
 */
public final class ArrivalQueue {
  /** Chunks that may wait; own choice, over ten seconds of a fast scale. */
  public static final int USUAL_CAPACITY = 1024;

  private final SessionClock clock;
  private final int capacity;
  private final Lock lock = new ReentrantLock();
  private final Condition changed = lock.newCondition();
  private final ArrayDeque<Arrival> waiting = new ArrayDeque<>();

  public ArrivalQueue(SessionClock clock, int capacity) {
    this.clock = clock;
    this.capacity = capacity;
  }

  /**
   * Adds bytes that came just now.
   *
   * @throws InterruptedException when told to stop while the queue is full; the bytes are lost then
   */
  public void received(Bytes bytes) throws InterruptedException {
    add(now -> new Arrival.Received(new Chunk(now, bytes)));
  }

  /**
   * Adds that the device is gone.
   *
   * @param why one plain sentence for the brewer
   */
  public void lost(String why) throws InterruptedException {
    add(now -> new Arrival.Lost(now, why));
  }

  /** Adds that the device is back. */
  public void restored() throws InterruptedException {
    add(Arrival.Restored::new);
  }

  /** Adds that the device told how full its battery is (0 to 100 %). */
  public void charged(int batteryPercent) throws InterruptedException {
    add(now -> new Arrival.Charged(now, batteryPercent));
  }

  /** Adds that nothing more will come. */
  public void ended() throws InterruptedException {
    add(Arrival.Ended::new);
  }

  private void add(Function<SessionTime, Arrival> stamped) throws InterruptedException {
    lock.lockInterruptibly();
    try {
      Arrival arrival = stamped.apply(clock.now());
      while (waiting.size() >= capacity) {
        changed.await();
      }
      waiting.add(arrival);
      changed.signalAll();
    } finally {
      lock.unlock();
    }
  }

  /** The next arrival, or {@link Arrival.Silence} when there is none within {@code patience}. */
  public Arrival take(Duration patience) throws InterruptedException {
    long nanosLeft = patience.toNanos();
    lock.lockInterruptibly();
    try {
      while (true) {
        Arrival next = waiting.poll();
        if (next != null) {
          changed.signalAll();
          return next;
        }
        if (nanosLeft <= 0) {
          return new Arrival.Silence(clock.now());
        }
        nanosLeft = changed.awaitNanos(nanosLeft);
      }
    } finally {
      lock.unlock();
    }
  }
}
