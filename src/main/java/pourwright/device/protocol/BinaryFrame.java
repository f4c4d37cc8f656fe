package pourwright.device.protocol;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import org.jspecify.annotations.Nullable;
import pourwright.device.Bytes;
import pourwright.device.Decoder;
import pourwright.reading.Stability;
import pourwright.units.Mass;

/** Weights as integers in frames of a fixed number of bytes. */
public final class BinaryFrame implements Shape, FixedFrame {
  /** How the weight's integer shows that it is below zero. */
  enum Sign {
    NONE,
    TWOS,
    /** The highest bit is the sign, the rest the size. */
    TOP_BIT
  }

  /** An integer in the frame: {@code size} bytes, 1 to 4. */
  record Whole(int at, int size, Sign sign, boolean isBigEndian) {
    long read(byte[] bytes, int frame) {
      long raw = 0;
      for (int i = 0; i < size; i++) {
        int index = isBigEndian ? i : size - 1 - i;
        raw = (raw << 8) | (bytes[frame + at + index] & 0xff);
      }
      long top = 1L << (8 * size - 1);
      return switch (sign) {
        case NONE -> raw;
        case TWOS -> (raw & top) != 0 ? raw - 2 * top : raw;
        case TOP_BIT -> (raw & top) != 0 ? -(raw - top) : raw;
      };
    }

    /** False when there is no room for the value. */
    boolean write(byte[] frame, long value) {
      long top = 1L << (8 * size - 1);
      boolean hasRoom =
          switch (sign) {
            case NONE -> value >= 0 && value < 2 * top;
            case TWOS -> value >= -top && value < top;
            case TOP_BIT -> Math.abs(value) < top;
          };
      long raw = sign == Sign.TOP_BIT && value < 0 ? top - value : value;
      for (int i = 0; i < size; i++) {
        int index = isBigEndian ? size - 1 - i : i;
        frame[at + index] = (byte) (raw >> (8 * i));
      }
      return hasRoom;
    }
  }

  /** Bits of one byte that mean something when they have a value. */
  record Mark(int at, int mask, int value) {
    boolean isSet(byte[] bytes, int frame) {
      return (bytes[frame + at] & mask) == value;
    }

    void write(byte[] frame, boolean isSet) {
      if (isSet) {
        frame[at] = (byte) ((frame[at] & ~mask) | value);
      } else if (isSet(frame, 0)) {
        // Any other value of these bits says no; turning over the lowest of them makes one.
        frame[at] ^= (byte) Integer.lowestOneBit(mask);
      }
    }
  }

  /** A byte with a value it must have. */
  record Fixed(int at, int value) {}

  /**
   * What one count of the integer is worth.
   *
   * @param exact to any fraction (ng)
   * @param whole the same (ng), or 0 where it is no whole number
   */
  record Step(BigDecimal exact, long whole) {
    static Step of(BigDecimal nanograms) {
      boolean isWhole = nanograms.stripTrailingZeros().scale() <= 0;
      return new Step(nanograms, isWhole ? nanograms.longValueExact() : 0);
    }
  }

  /** The step for a unit code. */
  record UnitCode(int code, Step step) {}

  /** A byte whose masked bits choose the step. */
  record UnitChoice(int at, int mask, List<UnitCode> codes) {
    /** The step that the frame's code chooses, or null for an unknown code. */
    @Nullable Step find(byte[] bytes, int frame) {
      int code = bytes[frame + at] & mask;
      for (int i = 0; i < codes.size(); i++) {
        if (codes.get(i).code() == code) {
          return codes.get(i).step();
        }
      }
      return null;
    }
  }

  /**
   * Everything a frame can hold beside its weight; a part is empty where the frame has none.
   *
   * @param exponentAt a signed byte: the step counts times ten to this power
   */
  record Parts(
      List<Fixed> fixed,
      Optional<UnitChoice> unit,
      OptionalInt exponentAt,
      Optional<Mark> stable,
      Optional<Mark> negative,
      Optional<Mark> over,
      Optional<Mark> under,
      OptionalInt batteryAt) {}

  private static final int GREATEST_EXPONENT = 6;

  private final Bytes header;
  private final int length;
  private final Whole weight;
  private final Step step;
  private final Parts parts;
  private final CheckField check;

  BinaryFrame(Bytes header, int length, Whole weight, Step step, Parts parts, CheckField check) {
    this.header = header;
    this.length = length;
    this.weight = weight;
    this.step = step;
    this.parts = parts;
    this.check = check;
  }

  @Override
  public Bytes header() {
    return header;
  }

  @Override
  public int length() {
    return length;
  }

  @Override
  public boolean isSelfProving() {
    return check.isPresent();
  }

  @Override
  public @Nullable String read(byte[] bytes, int at, FrameMatch match) {
    if (!check.agrees(bytes, at)) {
      return "the check is wrong";
    }
    for (Fixed fixed : parts.fixed()) {
      if ((bytes[at + fixed.at()] & 0xff) != fixed.value()) {
        return "another kind of frame";
      }
    }
    match.clear();
    match.isOver = isSet(parts.over(), bytes, at);
    match.isUnder = !match.isOver && isSet(parts.under(), bytes, at);
    if (parts.batteryAt().isPresent()) {
      int percent = bytes[at + parts.batteryAt().getAsInt()] & 0xff;
      match.batteryPercent = percent <= 100 ? percent : FrameMatch.NO_BATTERY;
    }
    if (match.isOver || match.isUnder) {
      return null;
    }
    if (parts.stable().isPresent()) {
      match.stability = parts.stable().get().isSet(bytes, at) ? Stability.STABLE : Stability.MOVING;
    }
    long count = weight.read(bytes, at);
    return weigh(isSet(parts.negative(), bytes, at) ? -count : count, bytes, at, match);
  }

  private @Nullable String weigh(long count, byte[] bytes, int at, FrameMatch match) {
    Step counted = step;
    if (parts.unit().isPresent()) {
      Step chosen = parts.unit().get().find(bytes, at);
      if (chosen == null) {
        return "an unknown unit";
      }
      counted = chosen;
    }
    if (parts.exponentAt().isPresent()) {
      int exponent = bytes[at + parts.exponentAt().getAsInt()];
      return Math.abs(exponent) > GREATEST_EXPONENT
          ? "a power of ten that no scale has"
          : weighExactly(count, counted.exact().scaleByPowerOfTen(exponent), match);
    }
    if (counted.whole() == 0) {
      return weighExactly(count, counted.exact(), match);
    }
    match.nanograms = count * counted.whole();
    return Math.multiplyHigh(count, counted.whole()) == match.nanograms >> 63
        ? null
        : "a mass beyond reach";
  }

  private static @Nullable String weighExactly(long count, BigDecimal step, FrameMatch match) {
    BigDecimal mass = step.multiply(BigDecimal.valueOf(count)).setScale(0, RoundingMode.HALF_EVEN);
    if (mass.unscaledValue().bitLength() >= Long.SIZE) {
      return "a mass beyond reach";
    }
    match.nanograms = mass.longValue();
    return null;
  }

  private static boolean isSet(Optional<Mark> mark, byte[] bytes, int at) {
    return mark.isPresent() && mark.get().isSet(bytes, at);
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
        byte[] frame = blank();
        parts.stable().ifPresent(mark -> mark.write(frame, stability != Stability.MOVING));
        long count =
            BigDecimal.valueOf(mass.nanograms())
                .divide(writtenStep(), 0, RoundingMode.HALF_EVEN)
                .longValueExact();
        boolean isApart = parts.negative().isPresent();
        parts.negative().ifPresent(mark -> mark.write(frame, count < 0));
        if (!weight.write(frame, isApart ? Math.abs(count) : count)) {
          throw new ArithmeticException(mass + " has no room in " + weight.size() + " bytes");
        }
        return sealed(frame);
      }

      @Override
      public Optional<Bytes> outOfRange(boolean over) {
        Optional<Mark> wanted = over ? parts.over() : parts.under();
        return wanted.map(
            mark -> {
              byte[] frame = blank();
              mark.write(frame, true);
              return sealed(frame);
            });
      }
    };
  }

  private BigDecimal writtenStep() {
    return parts.unit().map(choice -> choice.codes().get(0).step()).orElse(step).exact();
  }

  /** A frame with everything but the weight and the check, with no mark set. */
  private byte[] blank() {
    byte[] frame = new byte[length];
    header.copyInto(frame, 0);
    parts.fixed().forEach(fixed -> frame[fixed.at()] = (byte) fixed.value());
    parts.unit().ifPresent(choice -> frame[choice.at()] |= (byte) choice.codes().get(0).code());
    for (Optional<Mark> mark :
        List.of(parts.stable(), parts.negative(), parts.over(), parts.under())) {
      mark.ifPresent(one -> one.write(frame, false));
    }
    parts.batteryAt().ifPresent(at -> frame[at] = 100);
    return frame;
  }

  private Bytes sealed(byte[] frame) {
    check.write(frame);
    return Bytes.copyOf(frame);
  }
}
