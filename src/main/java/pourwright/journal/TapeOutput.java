package pourwright.journal;

import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;
import java.util.zip.Deflater;

/** Writes numbers in as few bytes as they need. */
final class TapeOutput {
  private final ByteArrayOutputStream bytes = new ByteArrayOutputStream();

  /** Seven bits a byte, the lowest first; the top bit says that more follow. */
  TapeOutput unsigned(long value) {
    long rest = value;
    while ((rest & ~0x7fL) != 0) {
      bytes.write((int) (rest & 0x7f) | 0x80);
      rest >>>= 7;
    }
    bytes.write((int) rest);
    return this;
  }

  /** Small numbers of either sign are short. */
  TapeOutput signed(long value) {
    return unsigned((value << 1) ^ (value >> 63));
  }

  TapeOutput bytes(byte[] content) {
    unsigned(content.length);
    bytes.writeBytes(content);
    return this;
  }

  TapeOutput text(String content) {
    return bytes(content.getBytes(StandardCharsets.UTF_8));
  }

  /** All of it, compressed. */
  byte[] deflated() {
    Deflater deflater = new Deflater(Deflater.BEST_COMPRESSION, true);
    try {
      deflater.setInput(bytes.toByteArray());
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
