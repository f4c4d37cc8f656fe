package pourwright.device.protocol;

import java.io.ByteArrayOutputStream;
import java.util.SplittableRandom;
import pourwright.reading.Stability;
import pourwright.units.Mass;

/** Streams that a scale might send on a very bad day, the same for the same seed. */
final class Noise {
  private static final String LETTERS =
      "0123456789.,+- \t\r\nSTUSGNOLDHMkgozlbrmOVERUNDER------\u0002\u0003";
  private static final int[] FRAMES = {0xaa, 0x55, 0xa5, 0x5a, 0x02, 0x03, 0x00, 0x01, 0xff};

  private final SplittableRandom random;
  private final Encoder encoder;

  Noise(Profile profile, long seed) {
    this.random = new SplittableRandom(seed);
    this.encoder = profile.newEncoder();
  }

  byte[] stream(int leastBytes) {
    ByteArrayOutputStream out = new ByteArrayOutputStream(leastBytes + 256);
    while (out.size() < leastBytes) {
      switch (random.nextInt(8)) {
        case 0 -> garbage(out, 0);
        case 1 -> garbage(out, 1);
        case 2 -> garbage(out, 2);
        case 3, 4 -> {
          byte[] said = mutated(said());
          out.write(said, 0, said.length);
        }
        default -> {
          byte[] said = said();
          out.write(said, 0, said.length);
        }
      }
    }
    return out.toByteArray();
  }

  private byte[] said() {
    if (random.nextInt(12) == 0) {
      return encoder.outOfRange(random.nextBoolean()).orElseThrow().toArray();
    }
    Stability stability = random.nextBoolean() ? Stability.STABLE : Stability.MOVING;
    return encoder
        .weight(Mass.ofMilligrams(random.nextLong(-999_999, 1_000_000)), stability)
        .toArray();
  }

  private byte[] mutated(byte[] good) {
    ByteArrayOutputStream out = new ByteArrayOutputStream(good.length + 4);
    int at = random.nextInt(good.length);
    int kind = random.nextInt(6);
    for (int i = 0; i < good.length; i++) {
      if (i != at) {
        out.write(good[i]);
        continue;
      }
      switch (kind) {
        case 0 -> out.write(good[i] ^ (1 << random.nextInt(8)));
        case 1 -> out.write(random.nextInt(256));
        case 2 -> out.write(LETTERS.charAt(random.nextInt(LETTERS.length())));
        case 3 -> {
          out.write(good[i]);
          out.write(good[i]);
        }
        case 4 -> {
          out.write(good[i]);
          out.write(LETTERS.charAt(random.nextInt(LETTERS.length())));
        }
        default -> {
          // left out; in one of two cases with all that follows
          if (random.nextBoolean()) {
            return out.toByteArray();
          }
        }
      }
    }
    return out.toByteArray();
  }

  private void garbage(ByteArrayOutputStream out, int kind) {
    int length = random.nextInt(1, random.nextInt(10) == 0 ? 300 : 24);
    for (int i = 0; i < length; i++) {
      out.write(
          switch (kind) {
            case 0 -> random.nextInt(256);
            case 1 -> LETTERS.charAt(random.nextInt(LETTERS.length()));
            default -> FRAMES[random.nextInt(FRAMES.length)];
          });
    }
  }
}
