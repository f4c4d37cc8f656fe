package pourwright.detect;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;

class StandingWaterTest {

  /** A tank that empties by √: the outflow falls straight, to nothing within 20 s of 30 s. */
  private static final DoubleUnaryOperator EMPTYING = Outflows.ran(5, 4, 30, 4, 50, 0);

  private static Outflow outflow(double seconds, DoubleUnaryOperator ran) {
    return new Outflow(Outflows.track(seconds, ran), List.of());
  }

  /** At 40 s it runs at 2 g/s for ten seconds more, half of that on average: 10 g. */
  @Test
  void drawdown_seen_to_the_end_tells_what_was_still_to_come() {
    StandingWater standing =
        new StandingWater(outflow(60, EMPTYING), List.of(new double[] {30, 50}));
    assertThat(standing.at(40)).isCloseTo(10, within(1.2));
  }

  /** 16 g/s is four times what it ran at first, where 40 g were to come; to the power of 1/0.7. */
  @Test
  void faster_than_ever_means_more_by_a_power() {
    DoubleUnaryOperator ran = Outflows.ran(5, 4, 30, 4, 50, 0, 60, 0, 60.1, 12, 70, 12);
    StandingWater standing = new StandingWater(outflow(70, ran), List.of(new double[] {30, 50}));
    assertThat(standing.at(68)).isCloseTo(40 * Math.pow(12 / 3.8, 1 / 0.7), within(12.0));
  }

  /** From 2.6 to 2 g/s within 3 s: 0.7 · 4 / 0.2. */
  @Test
  void without_one_its_fall_tells() {
    StandingWater standing = new StandingWater(outflow(60, EMPTYING), List.of());
    assertThat(standing.at(40.5)).isCloseTo(14, within(2.5));
    assertThat(standing.at(20)).isLessThan(1e6);
  }

  @Test
  void where_nothing_falls_nothing_is_told() {
    StandingWater standing = new StandingWater(outflow(40, Outflows.ran(5, 0, 30, 5)), List.of());
    assertThat(standing.at(25)).isZero();
  }
}
