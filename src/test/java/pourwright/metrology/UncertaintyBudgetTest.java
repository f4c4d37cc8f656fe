package pourwright.metrology;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import pourwright.metrology.UncertaintyBudget.Contribution;

class UncertaintyBudgetTest {

  /** University of Tartu, GUM example "weighing": u 0.000207525098883645 g, ν 33, k 2. */
  @Test
  void the_published_simple_weighing() {
    UncertaintyBudget budget =
        UncertaintyBudget.of(
            new Contribution("repeatability", 0.00017, 15),
            Contribution.rectangular("drift", 0.0002),
            Contribution.rectangular("readability", 0.00005));
    assertThat(budget.combined()).isCloseTo(0.000207525098883645, within(1e-18));
    assertThat(budget.effectiveFreedom()).isCloseTo(33.31, within(0.005));
    // two-sided 95.45 % at 33 degrees: t = 2.08 (GUM Table G.2 gives 2.08 at 35, 2.09 at 30)
    assertThat(budget.coverageFactor(0.9545)).isCloseTo(2.08, within(0.01));
  }

  /** EA-4/02 supplement S2, calibration of a 10 kg weight: u 29.1 mg, U 58 mg. */
  @Test
  void the_published_weight_calibration() {
    UncertaintyBudget budget =
        UncertaintyBudget.of(
                Contribution.expanded("standard", 45, 2),
                Contribution.rectangular("drift", 15),
                new Contribution("comparator", 14.2, Double.POSITIVE_INFINITY),
                Contribution.rectangular("corner and magnetism", 10))
            .with(Contribution.rectangular("buoyancy", 10));
    assertThat(budget.combined()).isCloseTo(29.1, within(0.05));
    assertThat(2 * budget.combined()).isCloseTo(58.29, within(0.01));
    assertThat(budget.effectiveFreedom()).isInfinite();
    assertThat(budget.expanded(0.9545)).isCloseTo(58.29, within(0.01));
  }

  /** EURAMET cg-18, 7.1.1 (formula from memory): d 0.1 g at zero and load, then s 0.05 g. */
  @Test
  void the_display_step_counts_at_zero_and_at_the_load() {
    UncertaintyBudget steps =
        UncertaintyBudget.of(
            Contribution.ofStep("step at zero", 0.1), Contribution.ofStep("step at load", 0.1));
    assertThat(steps.combined()).isCloseTo(0.0408248, within(1e-7));
    UncertaintyBudget all = steps.with(Contribution.repeated("repeatability", 0.05, 6));
    assertThat(all.combined()).isCloseTo(0.0645497, within(1e-7));
  }

  @Test
  void a_budget_without_doubt_has_none() {
    UncertaintyBudget sure = UncertaintyBudget.of(new Contribution("nothing", 0, 5));
    assertThat(sure.combined()).isZero();
    assertThat(sure.effectiveFreedom()).isInfinite();
  }

  @Test
  void what_is_no_uncertainty_is_refused() {
    assertThatThrownBy(() -> new Contribution("odd", -1, 5))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("odd");
    assertThatThrownBy(() -> new Contribution("odd", 1, 0))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new UncertaintyBudget(List.of()))
        .isInstanceOf(IllegalArgumentException.class);
  }

  /** R package masscor, MABC: water at 998.2 kg/m³ in air of 1.2 kg/m³ → 1.00105343. */
  @Test
  void a_brew_of_300_g_reads_a_third_of_a_gram_light() {
    double factor = AirBuoyancy.factor(AirBuoyancy.ORDINARY_AIR_KG_PER_M3, 998.2);
    assertThat(factor).isCloseTo(1.00105343, within(5e-9));
    assertThat(300 * (factor - 1)).isCloseTo(0.316, within(5e-4));
  }
}
