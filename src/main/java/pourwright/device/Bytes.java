package pourwright.device;

import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.HexFormat;

/** An immutable run of bytes, equal by content. */
public final class Bytes {
  public static final Bytes NONE = new Bytes(new byte[0]);

  private final byte[] content;

  private Bytes(byte[] content) {
    this.content = content;
  }

  public static Bytes copyOf(byte[] bytes) {
    return new Bytes(bytes.clone());
  }

  /** Bytes {@code from} (inclusive) to {@code to} (exclusive). */
  public static Bytes copyOf(byte[] bytes, int from, int to) {
    return new Bytes(Arrays.copyOfRange(bytes, from, to));
  }

  public static Bytes ofAscii(String text) {
    return new Bytes(text.getBytes(StandardCharsets.US_ASCII));
  }

  /**
   * The bytes that hexadecimal text stands for.
   *
   * @param hex pairs of hexadecimal digits, in either case, without separators
   * @throws IllegalArgumentException when it is anything else
   */
  public static Bytes ofHex(String hex) {
    return new Bytes(HexFormat.of().parseHex(hex));
  }

  public int size() {
    return content.length;
  }

  public byte at(int index) {
    return content[index];
  }

  /** Puts all of it into {@code target} from {@code index} on. */
  public void copyInto(byte[] target, int index) {
    System.arraycopy(content, 0, target, index, content.length);
  }

  public byte[] toArray() {
    return content.clone();
  }

  /** Pairs of lower-case hexadecimal digits without separators. */
  public String hex() {
    return HexFormat.of().formatHex(content);
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof Bytes bytes && Arrays.equals(content, bytes.content);
  }

  @Override
  public int hashCode() {
    return Arrays.hashCode(content);
  }

  @Override
  public String toString() {
    return HexFormat.ofDelimiter(" ").formatHex(content);
  }
}
