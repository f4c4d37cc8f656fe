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
      return Tables.forward(bytes, from, to, 8, Tables.SMBUS, 0);
    }
  },
  /** Polynomial 0x31 reflected, begins with 0. */
  CRC_8_MAXIM_DOW(1) {
    @Override
    int of(byte[] bytes, int from, int to) {
      return Tables.reflected(bytes, from, to, Tables.DOW, 0);
    }
  },
  /** Polynomial 0x8005 reflected, begins with 0. */
  CRC_16_ARC(2) {
    @Override
    int of(byte[] bytes, int from, int to) {
      return Tables.reflected(bytes, from, to, Tables.ARC, 0);
    }
  },
  /** Polynomial 0x8005 reflected, begins with 0xFFFF. */
  CRC_16_MODBUS(2) {
    @Override
    int of(byte[] bytes, int from, int to) {
      return Tables.reflected(bytes, from, to, Tables.ARC, 0xffff);
    }
  },
  /** Polynomial 0x1021 reflected, begins with 0. */
  CRC_16_KERMIT(2) {
    @Override
    int of(byte[] bytes, int from, int to) {
      return Tables.reflected(bytes, from, to, Tables.KERMIT, 0);
    }
  },
  /** Polynomial 0x1021, begins with 0. */
  CRC_16_XMODEM(2) {
    @Override
    int of(byte[] bytes, int from, int to) {
      return Tables.forward(bytes, from, to, 16, Tables.CCITT, 0);
    }
  },
  /** Polynomial 0x1021, begins with 0xFFFF; often called CCITT-FALSE. */
  CRC_16_IBM_3740(2) {
    @Override
    int of(byte[] bytes, int from, int to) {
      return Tables.forward(bytes, from, to, 16, Tables.CCITT, 0xffff);
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

  /** The cyclic checks, a byte at a time: what each value of a byte does to the remainder. */
  private static final class Tables {
    static final int[] SMBUS = forward(8, 0x07);
    static final int[] CCITT = forward(16, 0x1021);
    static final int[] DOW = reflected(0x8c);
    static final int[] ARC = reflected(0xa001);
    static final int[] KERMIT = reflected(0x8408);

    private static int[] forward(int width, int polynomial) {
      int top = 1 << (width - 1);
      int[] table = new int[256];
      for (int value = 0; value < table.length; value++) {
        int crc = value << (width - 8);
        for (int bit = 0; bit < 8; bit++) {
          crc = (crc & top) != 0 ? (crc << 1) ^ polynomial : crc << 1;
        }
        table[value] = crc & ((1 << width) - 1);
      }
      return table;
    }

    private static int[] reflected(int polynomial) {
      int[] table = new int[256];
      for (int value = 0; value < table.length; value++) {
        int crc = value;
        for (int bit = 0; bit < 8; bit++) {
          crc = (crc & 1) != 0 ? (crc >>> 1) ^ polynomial : crc >>> 1;
        }
        table[value] = crc;
      }
      return table;
    }

    static int forward(byte[] bytes, int from, int to, int width, int[] table, int initial) {
      int mask = (1 << width) - 1;
      int crc = initial;
      for (int i = from; i < to; i++) {
        crc = ((crc << 8) & mask) ^ table[((crc >>> (width - 8)) ^ bytes[i]) & 0xff];
      }
      return crc;
    }

    static int reflected(byte[] bytes, int from, int to, int[] table, int initial) {
      int crc = initial;
      for (int i = from; i < to; i++) {
        crc = (crc >>> 8) ^ table[(crc ^ bytes[i]) & 0xff];
      }
      return crc;
    }
  }
}
