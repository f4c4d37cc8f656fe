package pourwright.device;

import java.time.Duration;
import java.util.Optional;
import java.util.UUID;

/**
 * How a Bluetooth LE scale is spoken to: where its weight comes from and where commands go.
 *
 * @param service the service that marks this kind of scale
 * @param weight the characteristic of that service that sends weights, by notification or
 *     indication; which of the two it does is the scale's own choice and looks the same here
 * @param commands where commands are written, where the scale takes any
 * @param isWriteAnswered whether the scale confirms a written command
 * @param keepAlive what has to be written from time to time so that the scale goes on sending
 * @param isMessageWise whether each value sent is one whole message, not a piece of a stream
 * @param quiet longest pause of a working scale; a longer one means that the link is lost
 */
public record BleSettings(
    UUID service,
    UUID weight,
    Optional<UUID> commands,
    boolean isWriteAnswered,
    Optional<KeepAlive> keepAlive,
    boolean isMessageWise,
    Duration quiet) {

  /** Loss has to be known within 2 s, and most scales send several times a second. */
  public static final Duration USUAL_QUIET = Duration.ofMillis(1500);

  public BleSettings {
    if (quiet.isNegative() || quiet.isZero()) {
      throw new IllegalArgumentException("the longest pause must be above 0, not " + quiet);
    }
  }

  /** A scale that only sends, in a stream: no commands, the usual longest pause. */
  public static BleSettings listening(UUID service, UUID weight) {
    return new BleSettings(
        service, weight, Optional.empty(), true, Optional.empty(), false, USUAL_QUIET);
  }

  /**
   * A characteristic or service that has a number in the Bluetooth standard.
   *
   * @param number 16 bits
   */
  public static UUID standard(int number) {
    return new UUID(((long) number << 32) | 0x1000L, 0x800000805F9B34FBL);
  }

  /**
   * A command to repeat.
   *
   * @param command as written
   * @param interval from one to the next, above 0
   */
  public record KeepAlive(Bytes command, Duration interval) {
    public KeepAlive {
      if (interval.isNegative() || interval.isZero()) {
        throw new IllegalArgumentException("the interval must be above 0, not " + interval);
      }
    }
  }
}
