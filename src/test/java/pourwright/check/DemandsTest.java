package pourwright.check;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import pourwright.plan.Plans;

class DemandsTest {
  @Test
  void a_plan_asks_for_its_tolerance_its_flows_and_its_longest_pour() {
    Demands demands = Demands.of(Plans.demo());
    assertThat(demands.title()).isEqualTo(Plans.demo().title());
    assertThat(demands.toleranceGrams()).isEqualTo(2);
    assertThat(demands.flows()).isSorted().doesNotHaveDuplicates();
    assertThat(demands.fastestFlow()).isEqualTo(demands.flows().get(demands.flows().size() - 1));
    assertThat(demands.waterGrams()).isEqualTo(Plans.demo().water().grams());
    assertThat(demands.greatestPourGrams()).isBetween(40.0, 120.0);
    assertThat(demands.minutes()).isCloseTo(2.4, within(0.5));
  }
}
