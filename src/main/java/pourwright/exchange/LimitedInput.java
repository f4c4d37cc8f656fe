package pourwright.exchange;

import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;

/** Refuses to go on after so many bytes. */
final class LimitedInput extends FilterInputStream {
  private final String refusal;
  private long left;

  /**
   * @param refusal what to say when there is more
   */
  LimitedInput(InputStream in, long mostBytes, String refusal) {
    super(in);
    this.left = mostBytes;
    this.refusal = refusal;
  }

  @Override
  public int read() throws IOException {
    byte[] one = new byte[1];
    return read(one, 0, 1) < 0 ? -1 : one[0] & 0xff;
  }

  @Override
  public int read(byte[] into, int from, int length) throws IOException {
    int count = super.read(into, from, length);
    left -= Math.max(0, count);
    if (left < 0) {
      throw new RefusedImport(refusal);
    }
    return count;
  }

  @Override
  public long skip(long count) throws IOException {
    return read(new byte[(int) Math.min(Math.max(0, count), 8192)]);
  }

  @Override
  public boolean markSupported() {
    return false;
  }
}
