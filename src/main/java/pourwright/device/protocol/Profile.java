package pourwright.device.protocol;

import pourwright.device.Decoder;
import pourwright.device.LineSettings;
import pourwright.device.ScaleCommands;

/**
 * How to read, and speak to, one kind of scale.
 *
 * @param name small letters, digits and hyphens, after the shape of what is on the wire
 * @param about one line for the list of profiles
 * @param link the serial settings such scales come with
 * @param shape what a weight looks like
 * @param commands what the scale can be asked
 */
public record Profile(
    String name, String about, LineSettings link, Shape shape, ScaleCommands commands) {

  /** For a byte stream, which may be cut anywhere and may begin anywhere. */
  public Decoder newDecoder() {
    return shape.newDecoder();
  }

  /**
   * For a link that delivers whole messages: each chunk is one, from its first byte to its last.
   */
  public Decoder newMessageDecoder() {
    return shape.newMessageDecoder();
  }

  /** What a scale of this kind would send. */
  public Encoder newEncoder() {
    return shape.newEncoder();
  }
}
