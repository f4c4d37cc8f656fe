package pourwright.metrology;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import pourwright.metrology.WeightClass.Limit;
import pourwright.metrology.WeightClass.Source;
import pourwright.units.Mass;

class WeightClassTest {

  /** OIML R 111-1 (2004), Table 1, ± mg. */
  @ParameterizedTest
  @CsvSource({
    "1, E2, 0.03, READ",
    "10, F1, 0.20, READ",
    "50, F2, 1.0, READ",
    "100, M1, 5.0, READ",
    "200, M1, 10, MEMORY",
    "500, F1, 2.5, MEMORY"
  })
  void limits_of_the_standard(double grams, WeightClass of, double milligrams, Source source) {
    Limit limit = of.findLimit(Mass.ofGrams(grams)).orElseThrow();
    assertThat(limit.error()).isEqualTo(Mass.ofGrams(milligrams / 1000));
    assertThat(limit.source()).isEqualTo(source);
    assertThat(limit.standardUncertaintyGrams())
        .isCloseTo(milligrams / 1000 / 1.7320508, within(1e-9));
  }

  @Test
  void a_size_that_the_table_lacks_has_no_limit() {
    assertThat(WeightClass.M1.findLimit(Mass.ofGrams(3))).isEqualTo(Optional.empty());
  }

  @Test
  void in_every_row_a_better_class_allows_less_and_a_larger_weight_no_less() {
    List<Mass> sizes = WeightClass.listNominals();
    assertThat(sizes).hasSize(10).isSorted();
    for (Mass size : sizes) {
      Mass before = Mass.ZERO;
      for (WeightClass of : WeightClass.values()) {
        Mass limit = of.findLimit(size).orElseThrow().error();
        assertThat(limit).isGreaterThan(before);
        before = limit;
      }
    }
    for (WeightClass of : WeightClass.values()) {
      assertThat(sizes.stream().map(size -> of.findLimit(size).orElseThrow().error()).toList())
          .isSorted();
    }
  }

  @Test
  void classes_are_found_by_what_the_certificate_says() {
    assertThat(WeightClass.findByWord("m1")).contains(WeightClass.M1);
    assertThat(WeightClass.findByWord("Z9")).isEmpty();
    assertThat(WeightClass.F2.word()).isEqualTo("F2");
  }
}
