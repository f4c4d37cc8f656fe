package pourwright.recording;

import java.io.Closeable;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;

/**
 * A file that only grows. Text waits in memory until {@link #flush}; what a full disk refused keeps
 * waiting, in order, and goes out with the next flush that succeeds. One thread.
 */
public final class AppendFile implements Closeable {
  private static final int FIRST_CAPACITY = 8192;

  private final FileChannel channel;
  private byte[] waiting = new byte[FIRST_CAPACITY];
  private int length;

  private AppendFile(FileChannel channel) {
    this.channel = channel;
  }

  /**
   * A new, empty file.
   *
   * @throws IOException when it already exists or cannot be made
   */
  public static AppendFile create(Path path) throws IOException {
    return over(FileChannel.open(path, StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE));
  }

  /** Writes at the position of {@code channel}, which it takes over. */
  public static AppendFile over(FileChannel channel) {
    return new AppendFile(channel);
  }

  /** Takes text; touches no disk. */
  public void append(CharSequence text) {
    byte[] bytes = text.toString().getBytes(StandardCharsets.UTF_8);
    if (waiting.length - length < bytes.length) {
      byte[] larger = new byte[Math.max(2 * waiting.length, length + bytes.length)];
      System.arraycopy(waiting, 0, larger, 0, length);
      waiting = larger;
    }
    System.arraycopy(bytes, 0, waiting, length, bytes.length);
    length += bytes.length;
  }

  /** How many bytes have not reached the operating system yet. */
  public int pending() {
    return length;
  }

  /**
   * Hands everything to the operating system: it survives the death of this program.
   *
   * @throws IOException when some of it could not be written; that part keeps waiting
   */
  public void flush() throws IOException {
    ByteBuffer out = ByteBuffer.wrap(waiting, 0, length);
    try {
      while (out.hasRemaining()) {
        channel.write(out);
      }
    } finally {
      int written = out.position();
      System.arraycopy(waiting, written, waiting, 0, length - written);
      length -= written;
    }
  }

  /**
   * Hands everything to the disk: it survives a power cut.
   *
   * @throws IOException when that failed; nothing that waits is forgotten
   */
  public void force() throws IOException {
    flush();
    channel.force(false);
  }

  @Override
  public void close() throws IOException {
    try (channel) {
      if (channel.isOpen()) {
        force();
      }
    }
  }
}
