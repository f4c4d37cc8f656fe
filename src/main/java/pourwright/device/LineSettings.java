package pourwright.device;

import java.util.Locale;

/**
 * How bits are framed on a serial line; both ends must agree.
 *
 * @param baud bits per second, positive
 * @param dataBits 5 to 8
 * @param stopBits 1 or 2
 */
public record LineSettings(
    int baud, int dataBits, Parity parity, int stopBits, FlowControl flowControl) {
  /** What most scales come set to (common practice, no source): 9600 baud, 8 bits, no parity. */
  public static final LineSettings COMMON =
      new LineSettings(9600, 8, Parity.NONE, 1, FlowControl.NONE);

  public LineSettings {
    if (baud <= 0) {
      throw new IllegalArgumentException("baud must be above 0, not " + baud);
    }
    if (dataBits < 5 || dataBits > 8) {
      throw new IllegalArgumentException("data bits must be 5 to 8, not " + dataBits);
    }
    if (stopBits < 1 || stopBits > 2) {
      throw new IllegalArgumentException("stop bits must be 1 or 2, not " + stopBits);
    }
  }

  /** The bit that checks each byte. */
  public enum Parity {
    NONE,
    ODD,
    EVEN,
    MARK,
    SPACE
  }

  /** How the receiver asks the sender to wait. */
  public enum FlowControl {
    NONE,
    RTS_CTS,
    XON_XOFF
  }

  /** The same line at another speed. */
  public LineSettings withBaud(int otherBaud) {
    return new LineSettings(otherBaud, dataBits, parity, stopBits, flowControl);
  }

  /** In the trade's short form: {@code 9600 8N1}, with the flow control where there is one. */
  @Override
  public String toString() {
    String flow =
        flowControl == FlowControl.NONE
            ? ""
            : " " + flowControl.name().toLowerCase(Locale.ROOT).replace('_', '/');
    return baud + " " + dataBits + parity.name().charAt(0) + stopBits + flow;
  }
}
