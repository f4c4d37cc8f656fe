package pourwright.device;

import java.util.Optional;

/**
 * Bytes that ask a scale for something, where its kind has them.
 *
 * @param start sent once a link is up, to make it stream
 * @param tare takes the present weight as zero, keeping the display
 * @param zero sets the scale's own zero point
 */
public record ScaleCommands(Optional<Bytes> start, Optional<Bytes> tare, Optional<Bytes> zero) {
  public static final ScaleCommands NONE =
      new ScaleCommands(Optional.empty(), Optional.empty(), Optional.empty());
}
