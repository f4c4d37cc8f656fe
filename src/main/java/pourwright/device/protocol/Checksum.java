package pourwright.device.protocol;

import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * How a frame proves that it arrived whole.
 *
 * <p>The cyclic kinds carry the names of the public catalogue of parametrised CRC algorithms, which
 * also publishes their check values for the digits 1 to 9.
 */
public enum Checksum {
  /** No proof at all. */
  NONE(0) {
    @Override
    int of(byte[] bytes, int from, int to) {
      return 0;
    }
  },
  /** Bytes joined by exclusive or. */
  XOR(1) {
    @Override
    int of(byte[] bytes, int from, int to) {
      int check = 0;
      for (int i = from; i < to; i++) {
        check ^= bytes[i] & 0xff;
      }
      return check;
    }
  },
  /** Sum of the bytes, the low eight bits. */
  SUM(1) {
    @Override
    int of(byte[] bytes, int from, int to) {
      return sum(bytes, from, to) & 0xff;
    }
  },
  /** What makes the sum of all bytes zero: the two's complement of {@link #SUM}. */
  SUM_TWOS(1) {
    @Override
    int of(byte[] bytes, int from, int to) {
      return -sum(bytes, from, to) & 0xff;
    }
  },
  /** {@link #SUM} with every bit turned over. */
  SUM_ONES(1) {
    @Override
    int of(byte[] bytes, int from, int to) {
      return ~sum(bytes, from, to) & 0xff;
    }
  },
  /** Sum of the bytes, the low sixteen bits. */
  SUM_16(2) {
    @Override
    int of(byte[] bytes, int from, int to) {
      return sum(bytes, from, to) & 0xffff;
    }
  },
  /** Polynomial 0x07, begins with 0. */
  CRC_8_SMBUS(1) {
    @Override
    int of(byte[] bytes, int from, int to) {
      return forward(bytes, from, to, 8, 0x07, 0);
    }
  },
  /** Polynomial 0x31 reflected, begins with 0. */
  CRC_8_MAXIM_DOW(1) {
    @Override
    int of(byte[] bytes, int from, int to) {
      return reflected(bytes, from, to, 0x8c, 0);
    }
  },
  /** Polynomial 0x8005 reflected, begins with 0. */
  CRC_16_ARC(2) {
    @Override
    int of(byte[] bytes, int from, int to) {
      return reflected(bytes, from, to, 0xa001, 0);
    }
  },
  /** Polynomial 0x8005 reflected, begins with 0xFFFF. */
  CRC_16_MODBUS(2) {
    @Override
    int of(byte[] bytes, int from, int to) {
      return reflected(bytes, from, to, 0xa001, 0xffff);
    }
  },
  /** Polynomial 0x1021 reflected, begins with 0. */
  CRC_16_KERMIT(2) {
    @Override
    int of(byte[] bytes, int from, int to) {
      return reflected(bytes, from, to, 0x8408, 0);
    }
  },
  /** Polynomial 0x1021, begins with 0. */
  CRC_16_XMODEM(2) {
    @Override
    int of(byte[] bytes, int from, int to) {
      return forward(bytes, from, to, 16, 0x1021, 0);
    }
  },
  /** Polynomial 0x1021, begins with 0xFFFF; often called CCITT-FALSE. */
  CRC_16_IBM_3740(2) {
    @Override
    int of(byte[] bytes, int from, int to) {
      return forward(bytes, from, to, 16, 0x1021, 0xffff);
    }
  };

  private final int size;

  Checksum(int size) {
    this.size = size;
  }

  /** Bytes it takes in a frame. */
  public int size() {
    return size;
  }

  /** As written in a profile. */
  public String word() {
    return name().toLowerCase(Locale.ROOT).replace('_', '-');
  }

  public static Optional<Checksum> findByWord(String word) {
    return List.of(values()).stream().filter(one -> one.word().equals(word)).findFirst();
  }

  /** The check of bytes {@code from} (inclusive) to {@code to} (exclusive), unsigned. */
  abstract int of(byte[] bytes, int from, int to);

  private static int sum(byte[] bytes, int from, int to) {
    int sum = 0;
    for (int i = from; i < to; i++) {
      sum += bytes[i] & 0xff;
    }
    return sum;
  }

  private static int forward(
      byte[] bytes, int from, int to, int width, int polynomial, int initial) {
    int top = 1 << (width - 1);
    int crc = initial;
    for (int i = from; i < to; i++) {
      crc ^= (bytes[i] & 0xff) << (width - 8);
      for (int bit = 0; bit < 8; bit++) {
        crc = (crc & top) != 0 ? (crc << 1) ^ polynomial : crc << 1;
      }
    }
    return crc & ((1 << width) - 1);
  }

  private static int reflected(byte[] bytes, int from, int to, int polynomial, int initial) {
    int crc = initial;
    for (int i = from; i < to; i++) {
      crc ^= bytes[i] & 0xff;
      for (int bit = 0; bit < 8; bit++) {
        crc = (crc & 1) != 0 ? (crc >>> 1) ^ polynomial : crc >>> 1;
      }
    }
    return crc;
  }
}
