package pourwright.device.protocol;

import org.jspecify.annotations.Nullable;
import pourwright.device.Bytes;

/** A frame of a fixed number of bytes that begins with fixed bytes. */
interface FixedFrame {
  /** Fixed bytes at its beginning; none only where a link delivers whole messages. */
  Bytes header();

  /** Bytes in all. */
  int length();

  /** Whether a frame proves by itself that it is one, beyond its header. */
  boolean isSelfProving();

  /**
   * Reads the frame at {@code at}, whose bytes are all there and whose header fits.
   *
   * @return null when it is whole and right, else what is wrong with it
   */
  @Nullable String read(byte[] bytes, int at, FrameMatch match);
}
