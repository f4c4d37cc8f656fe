package pourwright.device.protocol;

import java.util.OptionalInt;

/**
 * Reads lines that end in CR, LF or both.
 *
 * <p>The first line of a stream is never believed: its beginning may have been missed, and the rest
 * of {@code 12.5} looks like {@code 2.5}. The same holds after a line that is longer than any.
 */
final class TextDecoder extends StreamDecoder {
  /** No scale's line is longer; bounds the waiting tail (bytes). */
  static final int LONGEST_LINE = 96;

  private final TextLines lines;
  private final TextMatch match = new TextMatch();

  /** The beginning of the present line was seen. */
  private boolean isWhole;

  private long unitsAssumed;
  private long unitsMissing;

  TextDecoder(TextLines lines, boolean isMessageWise) {
    super(isMessageWise);
    this.lines = lines;
  }

  /** Weights whose line named no unit. */
  long unitsAssumed() {
    return unitsAssumed;
  }

  /** Weights whose line left out a unit that this profile has a place for. */
  long unitsMissing() {
    return unitsMissing;
  }

  @Override
  void scan() {
    // Every earlier call has looked at what waits: a tail holds no line end.
    int index = start;
    while (index < end) {
      byte b = buffer[index++];
      if (b == '\n' || b == '\r') {
        endLine(index - start, 1);
      } else if (index - start >= LONGEST_LINE) {
        junk(index - start, "longer than any line");
        isWhole = false;
      }
    }
  }

  @Override
  void forget() {
    isWhole = false;
  }

  @Override
  void beginMessage() {
    isWhole = true;
  }

  @Override
  void endMessage() {
    if (waiting() > 0) {
      endLine(waiting(), 0);
    }
  }

  private void endLine(int length, int terminator) {
    if (length == terminator) {
      passOver(length);
    } else if (isWhole) {
      read(length, start + length - terminator);
    } else {
      junk(length, "the beginning of this line was missed");
    }
    isWhole = true;
  }

  private void read(int length, int to) {
    if (!lines.read(buffer, start, to, match)) {
      junk(length, match.fault());
    } else if (match.isOver() || match.isUnder()) {
      outOfRange(length, match.isOver());
    } else if (match.isOther()) {
      told(length, new Decoded.Told(now(), OptionalInt.empty()));
    } else {
      unitsAssumed += match.isUnitStated() ? 0 : 1;
      unitsMissing += match.isUnitMissing() ? 1 : 0;
      weighed(length, match.nanograms(), match.stability());
    }
  }
}
