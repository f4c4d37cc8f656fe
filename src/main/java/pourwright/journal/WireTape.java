package pourwright.journal;

import java.util.Arrays;
import java.util.function.Consumer;
import pourwright.device.Bytes;
import pourwright.device.Chunk;
import pourwright.device.Transport.Arrival;
import pourwright.units.SessionTime;

/**
 * What came over the wire of one scale, as it was cut by the link, losses and returns of the link
 * included. A tape holds how many arrivals there are and the time before the first of them; then,
 * for each, its kind, the time since the one before, and the bytes or the reason.
 *
 * <p>Arrivals are written down as they come, in about as many bytes as they have, so that a scale
 * that is left on overnight does no harm. Grows while it is filled; one thread.
 */
final class WireTape {
  private static final int RECEIVED = 0;
  private static final int LOST = 1;
  private static final int RESTORED = 2;
  private static final int FIRST_CAPACITY = 256;

  private final TapeOutput written = new TapeOutput();
  private long[] nanos = new long[FIRST_CAPACITY];
  private int[] starts = new int[FIRST_CAPACITY];
  private int size;

  int size() {
    return size;
  }

  void add(Arrival arrival) {
    if (size == nanos.length) {
      nanos = Arrays.copyOf(nanos, 2 * size);
      starts = Arrays.copyOf(starts, 2 * size);
    }
    long at = arrival.at().nanos();
    starts[size] = written.size();
    nanos[size] = at;
    long since = at - nanosBefore(size);
    size++;
    if (arrival instanceof Arrival.Lost lost) {
      written.unsigned(LOST).signed(since).text(lost.why());
    } else if (arrival instanceof Arrival.Restored) {
      written.unsigned(RESTORED).signed(since);
    } else if (arrival instanceof Arrival.Received received) {
      written.unsigned(RECEIVED).signed(since).bytes(received.chunk().bytes().toArray());
    } else {
      throw new IllegalArgumentException("not of the wire: " + arrival);
    }
  }

  private long nanosBefore(int index) {
    return index == 0 ? 0 : nanos[index - 1];
  }

  /** Arrivals {@code from} (inclusive) to the newest. */
  byte[] write(int from) {
    int start = from == size ? written.size() : starts[from];
    return new TapeOutput()
        .unsigned(size - from)
        .signed(nanosBefore(from))
        .append(written, start)
        .deflated();
  }

  /** Reads a tape arrival by arrival. */
  static void read(byte[] content, Consumer<Arrival> taker) {
    TapeInput tape = new TapeInput(content);
    long count = tape.unsigned();
    long nanos = tape.signed();
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
