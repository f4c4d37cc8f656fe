package pourwright.device.protocol;

import java.math.BigDecimal;
import java.math.BigInteger;
import java.math.RoundingMode;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.function.Function;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A slow second opinion on the shipped profiles: finds every weight in a whole stream by other
 * means (regular expressions, decimal arithmetic, byte by byte), sharing no code with the decoders.
 */
final class Recogniser {
  /**
   * A weight that stands whole in the stream.
   *
   * @param end one past its last byte
   */
  record Found(int end, long nanograms) {}

  /** One character for each byte. */
  static final Charset WIRE = StandardCharsets.ISO_8859_1;

  private static final int LONGEST_LINE = 96;
  private static final Map<String, Long> UNITS =
      Map.of(
          "mg", 1_000_000L,
          "g", 1_000_000_000L,
          "kg", 1_000_000_000_000L,
          "gr", 64_798_910L,
          "gn", 64_798_910L,
          "oz", 28_349_523_125L,
          "lb", 453_592_370_000L,
          "lbs", 453_592_370_000L);

  private static final String BLANKS = "[ \\t]*";
  private static final String NUMBER = BLANKS + "([+-]?)" + BLANKS + "(\\d*)(?:[.,](\\d+))?";
  private static final String UNIT = BLANKS + "(?i:(mg|kg|gr|gn|g|oz|lbs|lb))?" + BLANKS;

  private static final Map<String, Pattern> LINES =
      Map.of(
          "bare-number", Pattern.compile(NUMBER + BLANKS + "()"),
          "number-unit", Pattern.compile(NUMBER + UNIT),
          "ble-text-stream", Pattern.compile(NUMBER + BLANKS + "(?i:(mg|kg|gr|g|oz|lb))?" + BLANKS),
          "status-comma", Pattern.compile(BLANKS + "(?:ST|US),(?:GS|NT)," + NUMBER + UNIT),
          "status-letter", Pattern.compile(BLANKS + "[SDU]" + NUMBER + UNIT));

  private static final Pattern CONTROL = Pattern.compile("[SM](.{7})(.{2})", Pattern.DOTALL);

  private Recogniser() {}

  static List<Found> find(String profile, byte[] stream) {
    Pattern line = LINES.get(profile);
    if (line != null) {
      return lines(line, stream);
    }
    return switch (profile) {
      case "control-frame" -> frames(stream, 13, Recogniser::control);
      case "binary-sum" -> frames(stream, 9, Recogniser::sum);
      case "binary-crc" -> frames(stream, 10, Recogniser::crc);
      default -> throw new IllegalArgumentException("no second opinion on " + profile);
    };
  }

  /** The mass in one whole message of the profiles whose link delivers such. */
  static OptionalLong message(String profile, byte[] message) {
    int[] bytes = new int[message.length];
    for (int i = 0; i < bytes.length; i++) {
      bytes[i] = Byte.toUnsignedInt(message[i]);
    }
    if (profile.equals("ble-binary-message")) {
      return bytes.length < 12
          ? OptionalLong.empty()
          : OptionalLong.of(
              (bytes[0] + bytes[1] * 256 + bytes[2] * 65_536 + bytes[3] * 16_777_216)
                  * 10_000_000L);
    }
    if (bytes.length < 3 || bytes[0] >= 16 || bytes[1] + bytes[2] == 510) {
      return OptionalLong.empty();
    }
    int flags = bytes[0];
    int length = 3 + (flags / 2 % 2) * 7 + (flags / 4 % 2) + (flags / 8 % 2) * 4;
    long count = bytes[1] + 256L * bytes[2];
    // A hundredth of a pound is 4535923700 ng.
    return bytes.length == length
        ? OptionalLong.of(count * (flags % 2 == 0 ? 5_000_000_000L : 4_535_923_700L))
        : OptionalLong.empty();
  }

  private static List<Found> lines(Pattern pattern, byte[] stream) {
    List<Found> found = new ArrayList<>();
    int begin = -1; // unknown until the first line end
    for (int i = 0; i < stream.length; i++) {
      if (stream[i] != '\r' && stream[i] != '\n') {
        continue;
      }
      if (begin >= 0 && i - begin < LONGEST_LINE) {
        String line = new String(stream, begin, i - begin, WIRE);
        Matcher matcher = pattern.matcher(line);
        if (matcher.matches()) {
          OptionalLong mass =
              mass(matcher.group(1), matcher.group(2), matcher.group(3), matcher.group(4));
          if (mass.isPresent()) {
            found.add(new Found(i + 1, mass.getAsLong()));
          }
        }
      }
      begin = i + 1;
    }
    return found;
  }

  private static OptionalLong mass(String sign, String whole, String fraction, String unit) {
    String after = fraction == null ? "" : fraction;
    int digits = whole.length() + after.length();
    if (digits == 0 || digits > 15 || after.length() > 9) {
      return OptionalLong.empty();
    }
    long nanograms =
        unit == null || unit.isEmpty()
            ? 1_000_000_000L
            : Optional.ofNullable(UNITS.get(unit.toLowerCase(Locale.ROOT))).orElseThrow();
    BigInteger exact =
        new BigDecimal(sign + "0" + whole + "." + after + "0")
            .multiply(BigDecimal.valueOf(nanograms))
            .setScale(0, RoundingMode.HALF_EVEN)
            .toBigIntegerExact();
    return exact.bitLength() < Long.SIZE
        ? OptionalLong.of(exact.longValue())
        : OptionalLong.empty();
  }

  /** Whether the frame is one, and its mass where it has one. */
  private record Verdict(boolean isFrame, OptionalLong nanograms) {
    static final Verdict NO = new Verdict(false, OptionalLong.empty());
    static final Verdict NO_WEIGHT = new Verdict(true, OptionalLong.empty());

    static Verdict weight(long nanograms) {
      return new Verdict(true, OptionalLong.of(nanograms));
    }
  }

  private static List<Found> frames(byte[] stream, int length, Function<int[], Verdict> judge) {
    List<Found> found = new ArrayList<>();
    int at = 0;
    while (at + length <= stream.length) {
      int[] frame = new int[length];
      for (int i = 0; i < length; i++) {
        frame[i] = Byte.toUnsignedInt(stream[at + i]);
      }
      Verdict verdict = judge.apply(frame);
      if (verdict.isFrame()) {
        at += length;
        if (verdict.nanograms().isPresent()) {
          found.add(new Found(at, verdict.nanograms().getAsLong()));
        }
      } else {
        at++;
      }
    }
    return found;
  }

  private static Verdict control(int[] frame) {
    int check = 0;
    for (int i = 1; i <= 11; i++) {
      check ^= frame[i];
    }
    if (frame[0] != 2 || frame[11] != 3 || frame[12] != check) {
      return Verdict.NO;
    }
    StringBuilder text = new StringBuilder();
    for (int i = 1; i <= 10; i++) {
      text.append((char) frame[i]);
    }
    char status = text.charAt(0);
    if (status == 'O' || status == 'U') {
      return Verdict.NO_WEIGHT;
    }
    Matcher matcher = CONTROL.matcher(text);
    if (!matcher.matches()) {
      return Verdict.NO;
    }
    Matcher number = Pattern.compile(NUMBER + BLANKS).matcher(matcher.group(1));
    Matcher unit =
        Pattern.compile(BLANKS + "(?i:(mg|kg|gr|g|oz|lb))" + BLANKS).matcher(matcher.group(2));
    if (!number.matches() || !unit.matches()) {
      return Verdict.NO;
    }
    OptionalLong mass = mass(number.group(1), number.group(2), number.group(3), unit.group(1));
    return mass.isPresent() ? Verdict.weight(mass.getAsLong()) : Verdict.NO;
  }

  private static Verdict sum(int[] frame) {
    int total = 0;
    for (int i = 2; i < 8; i++) {
      total += frame[i];
    }
    if (frame[0] != 0xaa || frame[1] != 0x55 || total % 256 != frame[8]) {
      return Verdict.NO;
    }
    if ((frame[2] & 6) != 0) {
      return Verdict.NO_WEIGHT;
    }
    int count = frame[3] + frame[4] * 256 + frame[5] * 65_536 + frame[6] * 16_777_216;
    return Verdict.weight(count * 10_000_000L);
  }

  private static Verdict crc(int[] frame) {
    // Polynomial division, bit by bit, least significant bit first.
    int crc = 0xffff;
    for (int bit = 0; bit < 64; bit++) {
      boolean one = ((frame[bit / 8] >> (bit % 8)) & 1) != (crc & 1);
      crc = one ? (crc / 2) ^ 0xa001 : crc / 2;
    }
    if (frame[0] != 0xa5 || frame[1] != 0x5a || frame[8] + 256 * frame[9] != crc) {
      return Verdict.NO;
    }
    if (frame[2] != 1) {
      return Verdict.NO;
    }
    int range = frame[3] & 0x60;
    if (range == 0x20 || range == 0x40) {
      return Verdict.NO_WEIGHT;
    }
    BigDecimal step;
    switch (frame[4]) {
      case 0 -> step = new BigDecimal("1e8");
      case 1 -> step = new BigDecimal("28349523.125");
      case 2 -> step = new BigDecimal("45359237");
      default -> {
        return Verdict.NO;
      }
    }
    long count = frame[5] * 65_536L + frame[6] * 256L + frame[7];
    BigDecimal mass = step.multiply(BigDecimal.valueOf((frame[3] & 0x80) != 0 ? -count : count));
    return Verdict.weight(mass.setScale(0, RoundingMode.HALF_EVEN).longValueExact());
  }
}
