package pourwright.units;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.math.BigDecimal;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class MassTest {

  /** NIST Handbook 44 Appendix C and SP 811 B.8, as carried in pint's default_en.txt. */
  @ParameterizedTest
  @CsvSource({
    "1, GRAIN, 64798910",
    "1, POUND, 453592370000",
    "1, OUNCE, 28349523125",
    "7000, GRAIN, 453592370000",
    "437.5, GRAIN, 28349523125",
    "16, OUNCE, 453592370000",
    "1, KILOGRAM, 1000000000000",
    "0.1, GRAM, 100000000",
    "-30.05, GRAM, -30050000000",
    "250, MILLIGRAM, 250000000"
  })
  void a_written_amount_is_exact(BigDecimal amount, MassUnit unit, long nanograms) {
    assertThat(Mass.of(amount, unit)).isEqualTo(Mass.ofNanograms(nanograms));
  }

  /** 0.1 oz = 2.834 952 312 5 g lies half way between two nanograms: rounded to the even one. */
  @Test
  void half_a_nanogram_goes_to_the_even_neighbour() {
    assertThat(Mass.of(new BigDecimal("0.1"), MassUnit.OUNCE).nanograms()).isEqualTo(2834952312L);
    assertThat(Mass.of(new BigDecimal("0.3"), MassUnit.OUNCE).nanograms()).isEqualTo(8504856938L);
  }

  @Test
  void arithmetic_is_exact_and_does_not_wrap() {
    Mass some = Mass.ofMilligrams(1_500);
    assertThat(some.plus(some).minus(some)).isEqualTo(some);
    assertThat(some.negated().abs()).isEqualTo(some);
    assertThat(some.negated().isNegative()).isTrue();
    assertThat(some.isNegative()).isFalse();
    assertThat(Mass.ZERO.isNegative()).isFalse();
    assertThat(some).isGreaterThan(Mass.ZERO);
    assertThatThrownBy(() -> Mass.ofNanograms(Long.MAX_VALUE).plus(some))
        .isInstanceOf(ArithmeticException.class);
    assertThatThrownBy(() -> Mass.ofNanograms(Long.MIN_VALUE).negated())
        .isInstanceOf(ArithmeticException.class);
    assertThatThrownBy(() -> Mass.of(new BigDecimal("1e12"), MassUnit.POUND))
        .isInstanceOf(ArithmeticException.class);
  }

  @ParameterizedTest
  @CsvSource({"NaN", "Infinity", "-Infinity", "1e12"})
  void what_is_no_mass_is_refused(double grams) {
    assertThatThrownBy(() -> Mass.ofGrams(grams))
        .isInstanceOf(ArithmeticException.class)
        .hasMessageContaining("no such mass");
  }

  @Test
  void units_are_written_as_on_scales() {
    assertThat(MassUnit.values())
        .extracting(MassUnit::symbol)
        .containsExactlyInAnyOrder("mg", "g", "kg", "gr", "oz", "lb");
  }

  @Test
  void it_is_written_with_its_unit() {
    assertThat(Mass.ofMilligrams(12_340)).hasToString("12.34 g");
    assertThat(Mass.ofGrams(-0.5)).hasToString("-0.5 g");
    assertThat(Mass.ofMilligrams(100_000)).hasToString("100 g");
    assertThat(Mass.ofGrams(2.5).grams()).isEqualTo(2.5);
  }
}
