package pourwright.device.protocol;

/**
 * Where in a frame its check stands and what it covers.
 *
 * @param at first byte of the check, from the start of the frame
 * @param from first byte covered
 * @param to one past the last byte covered
 * @param isBigEndian the high byte comes first
 * @param isHex written as hexadecimal digits, two for each byte
 */
record CheckField(Checksum kind, int at, int from, int to, boolean isBigEndian, boolean isHex) {
  /** Bytes it takes in a frame. */
  static int size(Checksum kind, boolean isHex) {
    return isHex ? 2 * kind.size() : kind.size();
  }

  boolean isPresent() {
    return kind != Checksum.NONE;
  }

  /** Whether the check in the frame that begins at {@code frame} agrees with its bytes. */
  boolean agrees(byte[] bytes, int frame) {
    int check = kind.of(bytes, frame + from, frame + to);
    for (int i = 0; i < kind.size(); i++) {
      int wanted = (check >>> shift(i)) & 0xff;
      if (isHex) {
        int digits = frame + at + 2 * i;
        if (Character.digit(bytes[digits], 16) != wanted >> 4
            || Character.digit(bytes[digits + 1], 16) != (wanted & 0xf)) {
          return false;
        }
      } else if ((bytes[frame + at + i] & 0xff) != wanted) {
        return false;
      }
    }
    return true;
  }

  /** Puts the right check into a frame that is complete otherwise and begins at 0. */
  void write(byte[] frame) {
    int check = kind.of(frame, from, to);
    for (int i = 0; i < kind.size(); i++) {
      int value = (check >>> shift(i)) & 0xff;
      if (isHex) {
        frame[at + 2 * i] = hexDigit(value >> 4);
        frame[at + 2 * i + 1] = hexDigit(value & 0xf);
      } else {
        frame[at + i] = (byte) value;
      }
    }
  }

  private int shift(int index) {
    return 8 * (isBigEndian ? kind.size() - 1 - index : index);
  }

  private static byte hexDigit(int value) {
    return (byte) Character.toUpperCase(Character.forDigit(value, 16));
  }
}
