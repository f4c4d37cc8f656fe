package pourwright.device.protocol;

import java.util.List;
import java.util.Optional;
import pourwright.device.Bytes;
import pourwright.device.Decoder;
import pourwright.reading.Stability;
import pourwright.units.Mass;

/** Weights as lines of text; CR, LF or both end a line. */
public final class TextLines implements Shape {
  private final List<TextPattern> patterns;
  private final String lineEnd;

  /**
   * A kind of line.
   *
   * @param patterns at least one; a line is read by the first that fits it whole
   * @param lineEnd what ends a written line
   */
  TextLines(List<TextPattern> patterns, String lineEnd) {
    this.patterns = List.copyOf(patterns);
    this.lineEnd = lineEnd;
  }

  boolean read(byte[] text, int from, int to, TextMatch match) {
    for (int i = 0; i < patterns.size(); i++) {
      if (patterns.get(i).read(text, from, to, match)) {
        return true;
      }
    }
    return false;
  }

  @Override
  public Decoder newDecoder() {
    return new TextDecoder(this, false);
  }

  @Override
  public Decoder newMessageDecoder() {
    return new TextDecoder(this, true);
  }

  @Override
  public Encoder newEncoder() {
    TextPattern pattern = patterns.get(0);
    return new Encoder() {
      @Override
      public Bytes weight(Mass mass, Stability stability) {
        return Bytes.ofAscii(pattern.write(mass, stability) + lineEnd);
      }

      @Override
      public Optional<Bytes> outOfRange(boolean over) {
        return pattern.writeOutOfRange(over).map(line -> Bytes.ofAscii(line + lineEnd));
      }
    };
  }
}
