package pourwright.recording;

import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;

/** Remembers how its bytes ended, to tell a line that was cut off from one that was finished. */
final class WatchedInput extends FilterInputStream {
  private boolean hasEnded;
  private int last = '\n';

  WatchedInput(InputStream in) {
    super(in);
  }

  /** Whether everything was read and the last line has no end of line. */
  boolean hasEndedInMidLine() {
    return hasEnded && last != '\n' && last != '\r';
  }

  @Override
  public int read() throws IOException {
    byte[] one = new byte[1];
    return read(one, 0, 1) < 0 ? -1 : one[0] & 0xff;
  }

  @Override
  public int read(byte[] into, int from, int length) throws IOException {
    int count = super.read(into, from, length);
    if (count < 0) {
      hasEnded = true;
    } else if (count > 0) {
      last = into[from + count - 1] & 0xff;
    }
    return count;
  }
}
