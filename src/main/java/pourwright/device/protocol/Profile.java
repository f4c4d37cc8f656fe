package pourwright.device.protocol;

import java.util.Optional;
import pourwright.device.BleSettings;
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
 * @param ble where a Bluetooth scale of this kind sends its weight; empty for one on a cable
 * @param caution what the brewer has to know before trusting it, one plain sentence
 */
public record Profile(
    String name,
    String about,
    LineSettings link,
    Shape shape,
    ScaleCommands commands,
    Optional<BleSettings> ble,
    Optional<String> caution) {

  /**
   * For what such a scale sends: a byte stream, which may be cut anywhere and may begin anywhere,
   * or whole messages where its Bluetooth settings say so.
   */
  public Decoder newDecoder() {
    return ble.filter(BleSettings::isMessageWise).isPresent()
        ? shape.newMessageDecoder()
        : shape.newDecoder();
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
