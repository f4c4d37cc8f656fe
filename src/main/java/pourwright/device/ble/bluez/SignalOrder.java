package pourwright.device.ble.bluez;

/**
 * Notices a signal that was overtaken: a sender numbers its messages upwards, by 32 bits that wrap
 * (D-Bus specification, message serial).
 */
final class SignalOrder {
  private boolean isFirst = true;
  private int newest;

  /** Whether a signal of this number follows all that were asked about before. */
  boolean isNext(long serial) {
    int number = (int) serial;
    if (!isFirst && number - newest <= 0) {
      return false;
    }
    isFirst = false;
    newest = number;
    return true;
  }

  /** The sender is another one, which counts anew. */
  void restart() {
    isFirst = true;
  }
}
