package pourwright.device.protocol;

import pourwright.device.Decoder;

/** How one kind of scale lays out its weights on the wire. */
public sealed interface Shape permits TextLines, ControlFrame, BinaryFrame, WeightMeasurement {

  /** For a byte stream, which may be cut anywhere and may begin anywhere. */
  Decoder newDecoder();

  /**
   * For a link that delivers whole messages: each chunk is one, from its first byte to its last.
   */
  Decoder newMessageDecoder();

  Encoder newEncoder();
}
