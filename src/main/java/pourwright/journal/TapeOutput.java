package pourwright.journal;

import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.zip.Deflater;

/** Writes numbers in as few bytes as they need. */
final class TapeOutput {
  private static final int FIRST_CAPACITY = 1024;

  private byte[] content = new byte[FIRST_CAPACITY];
  private int size;

  /** Bytes so far, before they are compressed. */
  int size() {
    return size;
  }

  private void put(byte[] more, int from, int to) {
    int length = to - from;
    if (content.length - size < length) {
      content = Arrays.copyOf(content, Math.max(2 * content.length, size + length));
    }
    System.arraycopy(more, from, content, size, length);
    size += length;
  }

  private void put(int one) {
    if (size == content.length) {
      content = Arrays.copyOf(content, 2 * size);
    }
    content[size++] = (byte) one;
  }

  /** Seven bits a byte, the lowest first; the top bit says that more follow. */
  TapeOutput unsigned(long value) {
    long rest = value;
    while ((rest & ~0x7fL) != 0) {
      put((int) (rest & 0x7f) | 0x80);
      rest >>>= 7;
    }
    put((int) rest);
    return this;
  }

  /** Small numbers of either sign are short. */
  TapeOutput signed(long value) {
    return unsigned((value << 1) ^ (value >> 63));
  }

  TapeOutput bytes(byte[] run) {
    unsigned(run.length);
    put(run, 0, run.length);
    return this;
  }

  TapeOutput text(String words) {
    return bytes(words.getBytes(StandardCharsets.UTF_8));
  }

  /** What stands on another tape from byte {@code from} on. */
  TapeOutput append(TapeOutput other, int from) {
    put(other.content, from, other.size);
    return this;
  }

  /** All of it, compressed. */
  byte[] deflated() {
    Deflater deflater = new Deflater(Deflater.BEST_COMPRESSION, true);
    try {
      deflater.setInput(content, 0, size);
      deflater.finish();
      ByteArrayOutputStream out = new ByteArrayOutputStream();
      byte[] block = new byte[8192];
      while (!deflater.finished()) {
        out.write(block, 0, deflater.deflate(block));
      }
      return out.toByteArray();
    } finally {
      deflater.end();
    }
  }
}
