package pourwright.device.protocol;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.List;
import java.util.Optional;
import pourwright.device.Bytes;
import pourwright.device.Chunk;
import pourwright.device.Decoder;
import pourwright.device.Decoder.Decoded;
import pourwright.reading.Reading;
import pourwright.reading.Stability;
import pourwright.units.Mass;
import pourwright.units.MassUnit;

/**
 * The Weight Measurement of the Bluetooth standard, characteristic 0x2A9D, one whole message each.
 *
 * <p>Source: Bluetooth SIG, Weight Measurement characteristic (GATT XML of 2014). Low byte first:
 *
 * <pre>
 *   flags      1 byte   bit 0: 0 kilogram, 1 pound; bit 1: time stamp follows; bit 2: user follows;
 *                       bit 3: body mass index and height follow, both by the one bit
 *   weight     2 bytes  steps of 0.005 kg or 0.01 lb
 *   time stamp 7 bytes
 *   user       1 byte
 *   index      2 bytes
 *   height     2 bytes
 * </pre>
 *
 * <p>A weight of 0xFFFF stands for a failed measurement (Weight Scale Service 1.0, from memory).
 */
public record WeightMeasurement() implements Shape {
  private static final int FLAGS_AND_WEIGHT = 3;
  private static final int POUNDS = 0x01;
  private static final int TIME_STAMP = 0x02;
  private static final int USER = 0x04;
  private static final int INDEX_AND_HEIGHT = 0x08;
  private static final int RESERVED = 0xf0;
  private static final int FAILED = 0xffff;

  private static final long KILOGRAM_STEP_NANOGRAMS = Mass.ofMilligrams(5_000).nanograms();
  private static final BigDecimal POUND_STEP_NANOGRAMS =
      BigDecimal.valueOf(MassUnit.POUND.nanograms()).movePointLeft(2);

  @Override
  public Decoder newDecoder() {
    return newMessageDecoder();
  }

  @Override
  public Decoder newMessageDecoder() {
    return new Decoder() {
      @Override
      public List<Decoded> feed(Chunk chunk) {
        return List.of(decode(chunk));
      }

      @Override
      public void reset() {
        // Nothing waits: every message is whole.
      }
    };
  }

  private static Decoded decode(Chunk chunk) {
    Bytes message = chunk.bytes();
    if (message.size() < FLAGS_AND_WEIGHT) {
      return new Decoded.Junk(chunk.at(), message, "too short for a weight");
    }
    int flags = Byte.toUnsignedInt(message.at(0));
    if ((flags & RESERVED) != 0) {
      return new Decoded.Junk(chunk.at(), message, "flags that the standard does not know");
    }
    if (message.size() != length(flags)) {
      return new Decoded.Junk(
          chunk.at(),
          message,
          "its flags promise " + length(flags) + " bytes, it has " + message.size());
    }
    int weight = Byte.toUnsignedInt(message.at(1)) | Byte.toUnsignedInt(message.at(2)) << 8;
    if (weight == FAILED) {
      return new Decoded.OutOfRange(chunk.at(), true);
    }
    long nanograms =
        (flags & POUNDS) == 0
            ? weight * KILOGRAM_STEP_NANOGRAMS
            : POUND_STEP_NANOGRAMS
                .multiply(BigDecimal.valueOf(weight))
                .setScale(0, RoundingMode.HALF_EVEN)
                .longValueExact();
    return new Decoded.Weighed(new Reading(chunk.at(), new Mass(nanograms), Stability.UNSTATED));
  }

  private static int length(int flags) {
    return FLAGS_AND_WEIGHT
        + ((flags & TIME_STAMP) != 0 ? 7 : 0)
        + ((flags & USER) != 0 ? 1 : 0)
        + ((flags & INDEX_AND_HEIGHT) != 0 ? 4 : 0);
  }

  @Override
  public Encoder newEncoder() {
    return new Encoder() {
      @Override
      public Bytes weight(Mass mass, Stability stability) {
        long steps = Math.round((double) mass.nanograms() / KILOGRAM_STEP_NANOGRAMS);
        int sent = (int) Math.max(0, Math.min(FAILED - 1, steps));
        return Bytes.copyOf(new byte[] {0, (byte) sent, (byte) (sent >> 8)});
      }

      @Override
      public Optional<Bytes> outOfRange(boolean over) {
        Bytes failed = Bytes.copyOf(new byte[] {0, (byte) FAILED, (byte) (FAILED >> 8)});
        return over ? Optional.of(failed) : Optional.empty();
      }
    };
  }
}
