package pourwright.mineral;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import pourwright.mineral.Minerals.Salt;

class MineralsTest {

  /** R package tidywater, calculate_hardness: Ca 50, Mg 10 → 166.0447 mg/L as CaCO₃. */
  @Test
  void hardness_of_the_published_example() {
    assertThat(Minerals.ofIons(50, 10, 0).hardnessMgPerLitre()).isCloseTo(166.0447, within(0.01));
  }

  /** Standard Methods 2340 B prints 2.497 and 4.118; equivalents of bicarbonate give 0.8202. */
  @Test
  void factors_of_the_standard_method() {
    assertThat(Minerals.ofIons(1, 0, 0).hardnessMgPerLitre()).isCloseTo(2.497, within(5e-4));
    assertThat(Minerals.ofIons(0, 1, 0).hardnessMgPerLitre()).isCloseTo(4.118, within(5e-4));
    assertThat(Minerals.ofIons(0, 0, 1).alkalinityMgPerLitre()).isCloseTo(0.8202, within(5e-5));
  }

  /** A published concentrate recipe: 2.45 g and 1.68 g per litre give about 1000 mg/L each. */
  @Test
  void concentrates_of_the_published_recipe() {
    assertThat(Salt.MAGNESIUM_SULPHATE_HEPTAHYDRATE.dissolved(2.45).hardnessMgPerLitre())
        .isCloseTo(994.9, within(0.05));
    assertThat(Salt.SODIUM_BICARBONATE.dissolved(1.68).alkalinityMgPerLitre())
        .isCloseTo(1000.8, within(0.05));
  }

  /**
   * One mole of each salt carries one mole of calcium carbonate's hardness, half its alkalinity.
   */
  @Test
  void a_mole_is_a_mole() {
    assertThat(Salt.CALCIUM_CHLORIDE_DIHYDRATE.dissolved(147.014).hardnessMgPerLitre())
        .isCloseTo(100_086.9, within(0.1));
    assertThat(Salt.POTASSIUM_BICARBONATE.dissolved(100.115).alkalinityMgPerLitre())
        .isCloseTo(50_043.45, within(0.1));
    for (Salt salt : Salt.values()) {
      Minerals one = salt.dissolved(1);
      assertThat(one.hardnessMgPerLitre() == 0).isNotEqualTo(one.alkalinityMgPerLitre() == 0);
      assertThat(salt.words()).isNotBlank();
    }
  }

  /** FAO, quoted in an aquaponics glossary: 50 mg/L as CaCO₃ = 2.805 °dH (28 mg/L CaO). */
  @Test
  void german_degrees() {
    assertThat(new Minerals(50, 0).hardnessGermanDegrees()).isCloseTo(2.805, within(5e-3));
  }

  @Test
  void less_than_nothing_is_refused() {
    assertThatThrownBy(() -> new Minerals(-1, 0)).isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Minerals(0, Double.NaN))
        .isInstanceOf(IllegalArgumentException.class);
  }
}
