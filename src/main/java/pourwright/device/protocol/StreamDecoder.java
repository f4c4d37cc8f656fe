package pourwright.device.protocol;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import pourwright.device.Bytes;
import pourwright.device.Chunk;
import pourwright.device.Decoder;
import pourwright.reading.Reading;
import pourwright.reading.Stability;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * Holds the bytes not yet understood and accounts for every byte once; what a frame looks like is
 * the subclass's business.
 */
abstract sealed class StreamDecoder implements Decoder permits TextDecoder, FrameDecoder {
  /** Hears which bytes became what; for proofs that nothing is lost, doubled or made up. */
  interface Ledger {
    /**
     * Books bytes that are understood now.
     *
     * @param from first byte, counted from the first byte ever fed
     * @param to one past the last
     * @param what what they became, or null where they only ended a line or were forgotten
     */
    void booked(long from, long to, @Nullable Decoded what);
  }

  private static final int FIRST_CAPACITY = 256;

  private final boolean isMessageWise;

  /** Unread bytes are {@code buffer[start]} to {@code buffer[end - 1]}. */
  byte[] buffer = new byte[FIRST_CAPACITY];

  int start;
  int end;

  private SessionTime now = SessionTime.ZERO;
  private List<Decoded> out = new ArrayList<>();
  private long taken;
  private @Nullable Ledger ledger;

  StreamDecoder(boolean isMessageWise) {
    this.isMessageWise = isMessageWise;
  }

  final void keepBooksIn(Ledger books) {
    ledger = books;
  }

  /** Bytes waiting for the rest of their line or frame. */
  final int waiting() {
    return end - start;
  }

  @Override
  public final List<Decoded> feed(Chunk chunk) {
    out = new ArrayList<>();
    now = chunk.at();
    append(chunk.bytes());
    if (isMessageWise) {
      beginMessage();
      scan();
      endMessage();
    } else {
      scan();
    }
    return out;
  }

  @Override
  public final void reset() {
    take(waiting(), null);
    forget();
  }

  /** Takes from the unread bytes whatever is complete. */
  abstract void scan();

  /** What comes next joins nothing. */
  abstract void forget();

  /** A message begins here for certain. */
  abstract void beginMessage();

  /** The unread bytes get no more. */
  abstract void endMessage();

  final void weighed(int length, long nanograms, Stability stability) {
    book(length, new Decoded.Weighed(new Reading(now, new Mass(nanograms), stability)));
  }

  final void outOfRange(int length, boolean over) {
    book(length, new Decoded.OutOfRange(now, over));
  }

  final void told(int length, Decoded.Told told) {
    book(length, told);
  }

  final void junk(int length, String why) {
    book(length, new Decoded.Junk(now, Bytes.copyOf(buffer, start, start + length), why));
  }

  /** Takes bytes that mean nothing by themselves, such as the second half of a line end. */
  final void passOver(int length) {
    take(length, null);
  }

  final SessionTime now() {
    return now;
  }

  /** Adds what takes no bytes of its own. */
  final void alsoTold(Decoded.Told told) {
    out.add(told);
  }

  private void book(int length, Decoded what) {
    out.add(what);
    take(length, what);
  }

  private void take(int length, @Nullable Decoded what) {
    start += length;
    taken += length;
    if (ledger != null && length > 0) {
      ledger.booked(taken - length, taken, what);
    }
  }

  private void append(Bytes bytes) {
    int size = bytes.size();
    if (start == end) {
      start = 0;
      end = 0;
    }
    if (end + size > buffer.length) {
      byte[] roomier =
          waiting() + size > buffer.length
              ? new byte[Math.max(2 * buffer.length, waiting() + size)]
              : buffer;
      System.arraycopy(buffer, start, roomier, 0, waiting());
      buffer = roomier;
      end = waiting();
      start = 0;
    }
    bytes.copyInto(buffer, end);
    end += size;
  }
}
