package pourwright.journal;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import pourwright.device.Bytes;
import pourwright.device.Chunk;
import pourwright.device.Transport.Arrival;
import pourwright.units.SessionTime;

/**
 * What came over the wire of one scale, as it was cut by the link, losses and returns of the link
 * included. A tape holds, for each: its kind, the time since the one before, and the bytes or the
 * reason.
 */
final class WireTape {
  private static final int RECEIVED = 0;
  private static final int LOST = 1;
  private static final int RESTORED = 2;

  private final List<Arrival> arrivals = new ArrayList<>();

  int size() {
    return arrivals.size();
  }

  void add(Arrival arrival) {
    arrivals.add(arrival);
  }

  /** Arrivals {@code from} (inclusive) to the newest. */
  byte[] write(int from) {
    TapeOutput tape = new TapeOutput();
    tape.unsigned(arrivals.size() - from);
    long before = 0;
    for (Arrival arrival : arrivals.subList(from, arrivals.size())) {
      int kind =
          arrival instanceof Arrival.Lost
              ? LOST
              : arrival instanceof Arrival.Restored ? RESTORED : RECEIVED;
      tape.unsigned(kind).signed(arrival.at().nanos() - before);
      before = arrival.at().nanos();
      if (arrival instanceof Arrival.Received received) {
        tape.bytes(received.chunk().bytes().toArray());
      } else if (arrival instanceof Arrival.Lost lost) {
        tape.text(lost.why());
      }
    }
    return tape.deflated();
  }

  /** Reads a tape arrival by arrival. */
  static void read(byte[] content, Consumer<Arrival> taker) {
    TapeInput tape = new TapeInput(content);
    long count = tape.unsigned();
    long nanos = 0;
    for (long i = 0; i < count; i++) {
      int kind = Math.toIntExact(tape.unsigned());
      nanos += tape.signed();
      SessionTime at = SessionTime.ofNanos(nanos);
      taker.accept(
          switch (kind) {
            case LOST -> new Arrival.Lost(at, tape.text());
            case RESTORED -> new Arrival.Restored(at);
            default -> new Arrival.Received(new Chunk(at, Bytes.copyOf(tape.bytes())));
          });
    }
  }
}
