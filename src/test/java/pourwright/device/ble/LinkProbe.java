package pourwright.device.ble;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;
import pourwright.device.BleSettings;
import pourwright.device.Bytes;
import pourwright.device.SessionClock;
import pourwright.device.Transport.Arrival;
import pourwright.units.SessionTime;

/**
 * Listens to a numbered stream and tells on standard output what became of it; run by hand and by
 * the tests against a real Bluetooth stack. Each message is three 32-bit numbers, low byte first:
 * weight, count, microseconds of the sender's monotonic clock.
 */
final class LinkProbe {
  private LinkProbe() {}

  /** Arguments: ADDRESS or "-", SERVICE, WEIGHT, COMMANDS, SECONDS, then commands to write. */
  public static void main(String[] args) throws Exception {
    SessionClock clock = SessionClock.start();
    Optional<String> address = args[0].equals("-") ? Optional.empty() : Optional.of(args[0]);
    BleSettings settings =
        new BleSettings(
            UUID.fromString(args[1]),
            UUID.fromString(args[2]),
            Optional.of(UUID.fromString(args[3])),
            true,
            Optional.empty(),
            true,
            BleSettings.USUAL_QUIET);
    Duration length = Duration.ofMillis((long) (1000 * Double.parseDouble(args[4])));
    BleBackend backend =
        BleBackend.valueOf(System.getProperty("backend", "bluez").toUpperCase(Locale.ROOT));
    try (BleTransport link =
        BleTransport.open(address, Optional.empty(), settings, Optional.empty(), backend, clock)) {
      listen(link, clock, length, List.of(args).subList(5, args.length));
    }
  }

  private static void listen(
      BleTransport link, SessionClock clock, Duration length, List<String> commands)
      throws Exception {
    long last = -1;
    long lost = 0;
    long late = 0;
    long repeated = 0;
    int count = 0;
    SessionTime lastAt = SessionTime.ZERO;
    SessionTime end = SessionTime.ofNanos(Long.MAX_VALUE);
    List<Double> gaps = new ArrayList<>();
    List<Double> delays = new ArrayList<>();
    while (clock.now().isBefore(end)) {
      Arrival arrival = link.receive(Duration.ofMillis(200));
      if (arrival instanceof Arrival.Received received) {
        ByteBuffer in =
            ByteBuffer.wrap(received.chunk().bytes().toArray()).order(ByteOrder.LITTLE_ENDIAN);
        if (in.remaining() != 12) {
          continue;
        }
        in.getInt();
        long number = Integer.toUnsignedLong(in.getInt());
        long sentMicros = Integer.toUnsignedLong(in.getInt());
        long nowMicros = (System.nanoTime() / 1000) & 0xffffffffL;
        if (last < 0) {
          say("first %.3f number %d", arrival.at().seconds(), number);
          end = arrival.at().plus(length);
          for (String command : commands) {
            link.send(Bytes.copyOf(command.getBytes(StandardCharsets.US_ASCII)));
          }
        } else if (number <= last) {
          if (number == 0) {
            say("restart %.3f after %d", arrival.at().seconds(), last);
          } else if (number == last) {
            repeated++;
          } else {
            late++;
          }
        } else {
          lost += number - last - 1;
          gaps.add(arrival.at().secondsSince(lastAt) * 1000);
          delays.add((nowMicros - sentMicros) / 1000.0);
        }
        last = number;
        lastAt = arrival.at();
        count++;
      } else if (arrival instanceof Arrival.Lost gone) {
        say("lost %.3f last %.3f why %s", gone.at().seconds(), lastAt.seconds(), gone.why());
      } else if (arrival instanceof Arrival.Restored back) {
        say("back %.3f", back.at().seconds());
      } else if (arrival instanceof Arrival.Charged charged) {
        say("battery %d", charged.batteryPercent());
      }
    }
    say(
        "received %d missing %d late %d repeated %d gap-p50 %.2f gap-p99 %.2f delay-p50 %.2f delay-p99 %.2f",
        count,
        lost,
        late,
        repeated,
        part(gaps, 0.5),
        part(gaps, 0.99),
        part(delays, 0.5),
        part(delays, 0.99));
    long ticks = ProcessHandle.current().info().totalCpuDuration().orElse(Duration.ZERO).toMillis();
    say("cpu-ms %d wall-ms %d", ticks, (long) (clock.now().seconds() * 1000));
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
  }
}
