package pourwright.recording;

import static org.assertj.core.api.Assertions.assertThat;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The quick way to read a number against the exact one. */
class DecimalsTest {
  private static long read(String text) {
    return Decimals.billionths(text.toCharArray(), 0, text.length());
  }

  @Test
  void any_number_is_read_as_exact_arithmetic_reads_it() {
    SplittableRandom random = new SplittableRandom(17);
    for (int i = 0; i < 200_000; i++) {
      String text = someNumber(random);
      BigDecimal exact = new BigDecimal(text).movePointRight(9).setScale(0, RoundingMode.HALF_EVEN);
      boolean fits = exact.toBigInteger().bitLength() < Long.SIZE;
      assertThat(read(text)).as(text).isEqualTo(fits ? exact.longValue() : Decimals.NONE);
    }
  }

  /** Up to eleven digits before the point and up to thirty behind it; many halves to round. */
  private static String someNumber(SplittableRandom random) {
    StringBuilder text = new StringBuilder(random.nextInt(3) == 0 ? "-" : "");
    digits(text, 1 + random.nextInt(11), random);
    if (random.nextInt(4) > 0) {
      text.append('.');
      digits(text, 1 + random.nextInt(random.nextInt(3) == 0 ? 30 : 12), random);
      text.append(random.nextInt(4) == 0 ? "5" : "");
    }
    return text.toString();
  }

  private static void digits(StringBuilder text, int count, SplittableRandom random) {
    boolean areZeros = random.nextInt(4) == 0;
    for (int i = 0; i < count; i++) {
      text.append((char) ('0' + (areZeros ? 0 : random.nextInt(10))));
    }
  }

  @ParameterizedTest
  @CsvSource({
    "9223372036.854775807, 9223372036854775807",
    "-9223372036.854775807, -9223372036854775807",
    "9223372036.8547758074, 9223372036854775807",
    "9223372036, 9223372036000000000",
    "000000000000000000000000001.5, 1500000000",
    "1e3, 1000000000000",
    "1.5E-9, 2",
    "2.5e-9, 2",
    "0.0000000000000000000000000000004, 0",
    "1e-90, 0",
    "+.5, 500000000",
    "5., 5000000000"
  })
  void the_largest_and_the_longest_numbers_are_exact(String text, long billionths) {
    assertThat(read(text)).isEqualTo(billionths);
    assertThat(read("  " + text + " ")).isEqualTo(billionths);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "9223372036.854775808",
        "-9223372036.854775809",
        "9223372037",
        "99999999999",
        "1e11",
        "1e99",
        "1e-99",
        "1e999999999",
        "0.00000000000000000000000000000000000000000000000000000000000000000001",
        "1 2",
        "1,5",
        "--1",
        "1.2.3",
        "e5",
        "1e",
        "NaN",
        "Infinity",
        "-",
        ".",
        ""
      })
  void what_is_no_number_or_fits_no_scale_is_none(String text) {
    assertThat(read(text)).isEqualTo(Decimals.NONE);
  }

  @Test
  void only_the_part_that_is_asked_for_is_read() {
    assertThat(Decimals.billionths("12,34.5,6".toCharArray(), 3, 7)).isEqualTo(34_500_000_000L);
  }
}
