package pourwright.journal;

import java.io.BufferedInputStream;
import java.io.ByteArrayInputStream;
import java.io.EOFException;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.zip.Inflater;
import java.util.zip.InflaterInputStream;

/** Reads what {@link TapeOutput} wrote; a tape that is not whole ends in an exception. */
final class TapeInput {
  /** A number never needs more (64 bits at seven a byte). */
  private static final int MOST_BITS = 63;

  private final InputStream in;

  TapeInput(byte[] tape) {
    in =
        new BufferedInputStream(
            new InflaterInputStream(new ByteArrayInputStream(tape), new Inflater(true)));
  }

  long unsigned() {
    long value = 0;
    for (int shift = 0; shift <= MOST_BITS; shift += 7) {
      int next = next();
      value |= (long) (next & 0x7f) << shift;
      if ((next & 0x80) == 0) {
        return value;
      }
    }
    throw new UncheckedIOException(new IOException("a number on the tape has no end"));
  }

  long signed() {
    long value = unsigned();
    return (value >>> 1) ^ -(value & 1);
  }

  byte[] bytes() {
    int length = Math.toIntExact(unsigned());
    try {
      byte[] content = in.readNBytes(length);
      if (content.length < length) {
        throw new EOFException("the tape is cut off");
      }
      return content;
    } catch (IOException broken) {
      throw new UncheckedIOException(broken);
    }
  }

  String text() {
    return new String(bytes(), StandardCharsets.UTF_8);
  }

  private int next() {
    try {
      int next = in.read();
      if (next < 0) {
        throw new EOFException("the tape is cut off");
      }
      return next;
    } catch (IOException broken) {
      throw new UncheckedIOException(broken);
    }
  }
}
