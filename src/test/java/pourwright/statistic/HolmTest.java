package pourwright.statistic;

import static org.assertj.core.api.Assertions.assertThat;

import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;

class HolmTest {
  private static final Offset<Double> EXACT = Offset.offset(1e-12);

  /** By hand from Holm 1979: the smallest times 4, the next times 3, never falling. */
  @Test
  void p_values_are_adjusted_step_by_step() {
    assertThat(Holm.adjusted(0.01, 0.04, 0.03, 0.005))
        .containsExactly(new double[] {0.03, 0.06, 0.06, 0.02}, EXACT);
  }

  @Test
  void none_exceeds_one() {
    assertThat(Holm.adjusted(0.9, 0.8, 0.3)).containsExactly(new double[] {1, 1, 0.9}, EXACT);
  }

  @Test
  void one_question_needs_no_adjustment() {
    assertThat(Holm.adjusted(0.04)).containsExactly(0.04);
    assertThat(Holm.adjusted()).isEmpty();
  }
}
