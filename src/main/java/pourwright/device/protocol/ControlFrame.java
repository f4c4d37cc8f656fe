package pourwright.device.protocol;

import java.util.Optional;
import org.jspecify.annotations.Nullable;
import pourwright.device.Bytes;
import pourwright.device.Decoder;
import pourwright.reading.Stability;
import pourwright.units.Mass;

/** Weights as text of a fixed width between control bytes, with a block check where it has one. */
public final class ControlFrame implements Shape, FixedFrame {
  private final Bytes header;
  private final Bytes trailer;
  private final int trailerAt;
  private final Bytes tail;
  private final int width;
  private final TextPattern pattern;
  private final CheckField check;

  /**
   * A kind of frame.
   *
   * @param header bytes before the text
   * @param width characters of text
   * @param trailer bytes that end the text
   * @param trailerAt where they stand, from the start of the frame
   * @param tail bytes after everything
   */
  ControlFrame(
      Bytes header,
      int width,
      TextPattern pattern,
      Bytes trailer,
      int trailerAt,
      Bytes tail,
      CheckField check) {
    this.header = header;
    this.width = width;
    this.pattern = pattern;
    this.trailer = trailer;
    this.trailerAt = trailerAt;
    this.tail = tail;
    this.check = check;
  }

  @Override
  public Bytes header() {
    return header;
  }

  @Override
  public int length() {
    int checkSize = check.isPresent() ? CheckField.size(check.kind(), check.isHex()) : 0;
    return header.size() + width + trailer.size() + checkSize + tail.size();
  }

  @Override
  public boolean isSelfProving() {
    return check.isPresent() || trailer.size() > 0;
  }

  @Override
  public @Nullable String read(byte[] bytes, int at, FrameMatch match) {
    if (!stands(trailer, bytes, at + trailerAt)
        || !stands(tail, bytes, at + length() - tail.size())) {
      return "the frame does not end where it should";
    }
    if (!check.agrees(bytes, at)) {
      return "the check byte is wrong";
    }
    int from = at + header.size();
    if (!pattern.read(bytes, from, from + width, match.text)) {
      return match.text.fault();
    }
    match.clear();
    match.nanograms = match.text.nanograms();
    match.stability = match.text.stability();
    match.isOver = match.text.isOver();
    match.isUnder = match.text.isUnder();
    match.isOther = match.text.isOther();
    return null;
  }

  private static boolean stands(Bytes wanted, byte[] bytes, int at) {
    for (int i = 0; i < wanted.size(); i++) {
      if (bytes[at + i] != wanted.at(i)) {
        return false;
      }
    }
    return true;
  }

  @Override
  public Decoder newDecoder() {
    return new FrameDecoder(this, false);
  }

  @Override
  public Decoder newMessageDecoder() {
    return new FrameDecoder(this, true);
  }

  @Override
  public Encoder newEncoder() {
    return new Encoder() {
      @Override
      public Bytes weight(Mass mass, Stability stability) {
        return framed(pattern.write(mass, stability));
      }

      @Override
      public Optional<Bytes> outOfRange(boolean over) {
        return pattern.writeOutOfRange(over).map(ControlFrame.this::framed);
      }
    };
  }

  private Bytes framed(String text) {
    if (text.length() > width) {
      throw new ArithmeticException("'" + text + "' has no room in " + width + " characters");
    }
    byte[] frame = new byte[length()];
    header.copyInto(frame, 0);
    Bytes.ofAscii(text + " ".repeat(width - text.length())).copyInto(frame, header.size());
    trailer.copyInto(frame, trailerAt);
    tail.copyInto(frame, frame.length - tail.size());
    check.write(frame);
    return Bytes.copyOf(frame);
  }
}
