package pourwright.units;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.junit.jupiter.api.Test;

class FlowTest {

  @Test
  void mass_over_time_and_back() {
    Flow flow = Flow.of(Mass.ofMilligrams(42_000), 8.4);
    assertThat(flow).isEqualTo(Flow.ofGramsPerSecond(5)).hasToString("5 g/s");
    assertThat(flow.during(8.4)).isEqualTo(Mass.ofMilligrams(42_000));
    assertThat(flow.minus(Flow.ofGramsPerSecond(1.5)).gramsPerSecond()).isEqualTo(3.5);
    assertThat(flow).isGreaterThan(Flow.ZERO);
    assertThat(Flow.ofNanogramsPerSecond(5_000_000_000L)).isEqualTo(flow);
  }

  @Test
  void no_flow_over_no_time() {
    assertThatThrownBy(() -> Flow.of(Mass.ZERO, 0)).isInstanceOf(ArithmeticException.class);
    assertThatThrownBy(() -> Flow.of(Mass.ZERO, Double.NaN))
        .isInstanceOf(ArithmeticException.class);
    assertThatThrownBy(() -> Flow.ofGramsPerSecond(Double.NaN))
        .isInstanceOf(ArithmeticException.class);
  }
}
