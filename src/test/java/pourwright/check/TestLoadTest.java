package pourwright.check;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import pourwright.metrology.WeightClass;
import pourwright.units.Mass;

class TestLoadTest {

  /** OIML R 111-1 (2004), Table 1: 100 g M1 ± 5 mg; rectangular, so 5 mg / √3. */
  @Test
  void a_weight_of_a_class_brings_the_tolerance_of_its_class() {
    TestLoad weight = TestLoad.parse("100:M1");
    assertThat(weight.name()).isEqualTo("the 100 g weight");
    TestLoad.Known known = weight.known().orElseThrow();
    assertThat(known.standardUncertaintyGrams()).isCloseTo(0.005 / Math.sqrt(3), within(1e-12));
    assertThat(known.source()).isEqualTo("class M1, ±5 mg");
    assertThat(known.isFromMemory()).isFalse();
    assertThat(TestLoad.parse("500g : f2").known().orElseThrow().isFromMemory()).isTrue();
  }

  @Test
  void an_object_weighed_elsewhere_brings_half_of_what_covers_95_percent() {
    TestLoad object = TestLoad.parse("312.4±0.1");
    assertThat(object.known().orElseThrow().standardUncertaintyGrams()).isEqualTo(0.05);
    assertThat(object.known().orElseThrow().source()).contains("elsewhere", "±0.1 g");
    assertThat(object.known().orElseThrow().mass()).isEqualTo(Mass.ofMilligrams(312_400));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "",
        "200",
        "200:",
        ":M1",
        "-5:M1",
        "0:M1",
        "200:300",
        "200:200",
        "x:M1",
        "99999:M1"
      })
  void what_is_no_weight_is_told_how_one_is_written(String text) {
    assertThatThrownBy(() -> TestLoad.parse(text))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("200:M1")
        .hasMessageContaining("312.4:0.1");
  }

  @Test
  void a_size_that_no_class_has_is_told_the_sizes() {
    assertThatThrownBy(() -> TestLoad.parse("30:M1"))
        .hasMessageContaining("1 g, 2 g, 5 g, 10 g")
        .hasMessageContaining("not 30 g");
  }

  @Test
  void a_kit_is_sorted_and_its_heaviest_weight_does_most_of_the_work() {
    Kit kit = SimulatedCheck.kit(WeightClass.F1, 200, 20, 100);
    assertThat(kit.weights()).extracting(TestLoad::name).first().isEqualTo("the 20 g weight");
    assertThat(kit.main().name()).isEqualTo("the 200 g weight");
    assertThat(new Kit(List.of(), Kit.ANY_OBJECT).main()).isEqualTo(Kit.ANY_OBJECT);
    assertThatThrownBy(() -> new Kit(List.of(Kit.ANY_OBJECT), Kit.ANY_OBJECT))
        .isInstanceOf(IllegalArgumentException.class);
    List<TestLoad> many = java.util.Collections.nCopies(9, TestLoad.parse("20:M1"));
    assertThatThrownBy(() -> new Kit(many, Kit.ANY_OBJECT))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("at most 8");
  }

  @Test
  void a_programme_puts_on_and_takes_off_alike_and_begins_empty() {
    for (Thoroughness length : Thoroughness.values()) {
      Programme programme = Programme.of(SimulatedCheck.kit(WeightClass.M1, 50, 100, 200), length);
      assertThat(programme.isEmptyBefore(0)).isTrue();
      assertThat(programme.isEmptyBefore(programme.asks().size())).isTrue();
      assertThat(programme.asks()).allSatisfy(ask -> assertThat(ask.words()).endsWith("."));
      assertThat(Thoroughness.findByWord(length.word())).hasValue(length);
    }
    assertThat(Thoroughness.findByWord("endless")).isEmpty();
    Programme unknown = Programme.of(new Kit(List.of(), Kit.ANY_OBJECT), Thoroughness.QUICK);
    assertThat(unknown.asks()).extracting(Ask::part).containsOnly(Part.QUIET, Part.REPEAT);
    assertThatThrownBy(() -> new Programme(List.of())).isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Programme(List.of(new Ask.Tare(Part.SLOW_WATER))))
        .isInstanceOf(IllegalArgumentException.class);
  }
}
