package pourwright.device.ble;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;
import pourwright.device.BleSettings;
import pourwright.device.SessionClock;
import pourwright.device.Transport.Arrival;
import pourwright.units.SessionTime;

/**
 * Listens to a numbered stream and tells on standard output what became of it; run by hand and by
 * the tests against a real Bluetooth stack. Each message is three 32-bit numbers, low byte first:
 * weight, count, microseconds of the sender's monotonic clock.
 */
final class LinkProbe {
  private static final int RECORD_BYTES = 12;
  private static final Duration PATIENCE = Duration.ofMillis(200);

  /**
   * A wait that took this long was not this program's: the machine, or the process, stood still.
   */
  private static final Duration STANDSTILL = Duration.ofMillis(600);

  private LinkProbe() {}

  /** Arguments: RADIO, ADDRESS or "-", SERVICE, WEIGHT, SECONDS from the first weight on. */
  public static void main(String[] args) throws Exception {
    Optional<String> radio = Optional.of(args[0]);
    Optional<String> address = Optional.of(args[1]).filter(known -> !known.equals("-"));
    BleSettings settings =
        BleSettings.listening(UUID.fromString(args[2]), UUID.fromString(args[3]));
    Duration length = Duration.ofMillis((long) (1000 * Double.parseDouble(args[4])));
    BleBackend backend =
        BleBackend.valueOf(System.getProperty("backend", "bluez").toUpperCase(Locale.ROOT));
    SessionClock clock = SystemClock.INSTANCE;
    say("begun %.3f", clock.now().seconds());
    try (BleTransport link =
        BleTransport.open(address, radio, settings, Optional.empty(), backend, clock)) {
      listen(link, clock, length);
    }
  }

  /** The machine's own monotonic clock, so that others can tell when something was. */
  private enum SystemClock implements SessionClock {
    INSTANCE;

    @Override
    public SessionTime now() {
      return SessionTime.ofMicros(System.nanoTime() / 1000);
    }
  }

  private static void listen(BleTransport link, SessionClock clock, Duration length)
      throws Exception {
    Tally tally = new Tally();
    SessionTime begun = clock.now();
    Thread told = new Thread(() -> tally.say(clock.now().since(begun)));
    Runtime.getRuntime().addShutdownHook(told);
    SessionTime lastAt = SessionTime.ZERO;
    SessionTime end = SessionTime.ofNanos(Long.MAX_VALUE);
    SessionTime before = clock.now();
    while (before.isBefore(end)) {
      Arrival arrival = link.receive(PATIENCE);
      SessionTime now = clock.now();
      Duration late = now.since(before).minus(PATIENCE);
      if (late.compareTo(STANDSTILL) > 0) {
        say("stood %.3f for %.3f", now.seconds(), late.toNanos() / 1e9);
      }
      before = now;
      if (arrival instanceof Arrival.Received received) {
        if (tally.isEmpty()) {
          say("first %.3f", arrival.at().seconds());
          end = arrival.at().plus(length);
        }
        tally.count(received);
        lastAt = arrival.at();
      } else if (arrival instanceof Arrival.Lost gone) {
        say("lost %.3f last %.3f why %s", gone.at().seconds(), lastAt.seconds(), gone.why());
      } else if (arrival instanceof Arrival.Restored back) {
        tally.beginAnew();
        say("back %.3f", back.at().seconds());
      } else if (arrival instanceof Arrival.Charged charged) {
        say("battery %d", charged.batteryPercent());
      }
    }
  }

  /** What became of the numbers. */
  private static final class Tally {
    private long last = -1;
    private long missing;
    private long late;
    private long repeated;
    private int count;
    private boolean isAnew = true;
    private SessionTime lastAt = SessionTime.ZERO;
    private final List<Double> gaps = new ArrayList<>();
    private final List<Double> delays = new ArrayList<>();

    synchronized boolean isEmpty() {
      return count == 0;
    }

    /**
     * It counts from 0 in each subscription, whose first value may have been sent too early to be
     * heard.
     */
    synchronized void beginAnew() {
      isAnew = true;
    }

    synchronized void count(Arrival.Received received) {
      ByteBuffer in =
          ByteBuffer.wrap(received.chunk().bytes().toArray()).order(ByteOrder.LITTLE_ENDIAN);
      if (in.remaining() != RECORD_BYTES) {
        return;
      }
      in.getInt();
      long number = Integer.toUnsignedLong(in.getInt());
      long sentMicros = Integer.toUnsignedLong(in.getInt());
      long nowMicros = (System.nanoTime() / 1000) & 0xffffffffL;
      isAnew |= number == 0;
      if (!isAnew && number > last) {
        missing += number - last - 1;
        gaps.add(received.at().secondsSince(lastAt) * 1000);
        delays.add((nowMicros - sentMicros) / 1000.0);
      } else if (!isAnew && number == last) {
        repeated++;
      } else if (!isAnew) {
        late++;
      }
      isAnew = false;
      last = number;
      lastAt = received.at();
      count++;
    }

    synchronized void say(Duration wall) {
      LinkProbe.say(
          "received %d missing %d late %d repeated %d gap-p50 %.2f gap-p99 %.2f delay-p50 %.2f"
              + " delay-p99 %.2f cpu-ms %d wall-ms %d",
          count,
          missing,
          late,
          repeated,
          part(gaps, 0.5),
          part(gaps, 0.99),
          part(delays, 0.5),
          part(delays, 0.99),
          ProcessHandle.current().info().totalCpuDuration().orElse(Duration.ZERO).toMillis(),
          wall.toMillis());
    }
  }

  private static double part(List<Double> values, double share) {
    if (values.isEmpty()) {
      return Double.NaN;
    }
    Collections.sort(values);
    return values.get((int) Math.min(values.size() - 1, share * values.size()));
  }

  private static void say(String format, Object... values) {
    System.out.println(String.format(Locale.ROOT, format, values));
    System.out.flush();
  }
}
