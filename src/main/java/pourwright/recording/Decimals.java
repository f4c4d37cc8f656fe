package pourwright.recording;

import java.math.BigDecimal;
import java.math.RoundingMode;

/**
 * Decimal numbers as whole billionths: grams as nanograms, seconds as nanoseconds, without a detour
 * through binary fractions.
 */
public final class Decimals {
  /** What {@link #billionths} answers for text that is no number, or one out of range. */
  public static final long NONE = Long.MIN_VALUE;

  private static final int PLACES = 9;

  /** Up to this many digits, any number fits a {@code long}. */
  private static final int FAST_DIGITS = 18;

  /** Longer text is no weight and no time. */
  private static final int MOST_CHARACTERS = 64;

  /** Beyond this an exponent only serves to exhaust memory. */
  private static final int MOST_EXPONENT = 30;

  private static final long[] POWERS = powersOfTen();

  private Decimals() {}

  private static long[] powersOfTen() {
    long[] powers = new long[FAST_DIGITS + 1];
    powers[0] = 1;
    for (int exponent = 1; exponent < powers.length; exponent++) {
      powers[exponent] = 10 * powers[exponent - 1];
    }
    return powers;
  }

  /**
   * The number that {@code text} stands for, in billionths, rounded half to even where it has more
   * than nine decimal places. Blanks around it are ignored; a sign, a decimal point and an exponent
   * may occur.
   *
   * @return {@link #NONE} when it is no number or does not fit
   */
  public static long billionths(char[] text, int from, int to) {
    int start = from;
    int end = to;
    while (start < end && text[start] == ' ') {
      start++;
    }
    while (end > start && text[end - 1] == ' ') {
      end--;
    }
    boolean isNegative = start < end && text[start] == '-';
    int at = start;
    if (isNegative || (start < end && text[start] == '+')) {
      at++;
    }
    long digits = 0;
    int significant = 0;
    int places = 0;
    boolean seenDigit = false;
    boolean seenPoint = false;
    for (; at < end; at++) {
      int digit = text[at] - '0';
      if (digit >= 0 && digit <= 9) {
        seenDigit = true;
        digits = 10 * digits + digit;
        if (digits != 0 && ++significant > FAST_DIGITS) {
          return exactly(text, start, end);
        }
        if (seenPoint) {
          places++;
        }
      } else if (text[at] == '.' && !seenPoint) {
        seenPoint = true;
      } else {
        return seenDigit ? exactly(text, start, end) : NONE;
      }
    }
    if (!seenDigit) {
      return NONE;
    }
    if (places > PLACES + FAST_DIGITS) {
      return exactly(text, start, end);
    }
    long value =
        places <= PLACES ? scaled(digits, PLACES - places) : rounded(digits, places - PLACES);
    return value == NONE || !isNegative ? value : -value;
  }

  private static long scaled(long digits, int exponent) {
    long power = POWERS[exponent];
    return digits > Long.MAX_VALUE / power ? NONE : digits * power;
  }

  private static long rounded(long digits, int exponent) {
    long power = POWERS[exponent];
    long quotient = digits / power;
    long rest = digits % power;
    long half = power / 2;
    boolean isUp = rest > half || (rest == half && (quotient & 1) == 1);
    return isUp ? quotient + 1 : quotient;
  }

  /** The same for long and exponential forms, which are rare. */
  private static long exactly(char[] text, int from, int to) {
    if (to - from > MOST_CHARACTERS) {
      return NONE;
    }
    try {
      BigDecimal number = new BigDecimal(text, from, to - from);
      if (Math.abs((long) number.scale()) > MOST_CHARACTERS + MOST_EXPONENT) {
        return NONE;
      }
      long value =
          number.movePointRight(PLACES).setScale(0, RoundingMode.HALF_EVEN).longValueExact();
      return value;
    } catch (ArithmeticException | NumberFormatException e) {
      return NONE;
    }
  }

  /** Writes {@code billionths} as the shortest exact decimal number. */
  public static void append(StringBuilder out, long billionths) {
    long rest = billionths;
    if (rest < 0) {
      out.append('-');
    }
    long whole = Math.abs(rest / POWERS[PLACES]);
    long fraction = Math.abs(rest % POWERS[PLACES]);
    out.append(whole);
    if (fraction == 0) {
      return;
    }
    out.append('.');
    for (long power = POWERS[PLACES - 1]; fraction != 0; power /= 10) {
      out.append((char) ('0' + fraction / power));
      fraction %= power;
    }
  }
}
