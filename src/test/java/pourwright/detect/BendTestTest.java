package pourwright.detect;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;

/** Bends of courses without noise, every figure worked by hand. */
class BendTestTest {
  private final BendTest test = new BendTest();

  /** One block each quarter second for ten seconds. */
  private static Blocks blocks(DoubleUnaryOperator course) {
    Blocks blocks = new Blocks(0.25, 64);
    for (int i = 0; i <= 40; i++) {
      assertThat(blocks.add(i * 0.25, course.applyAsDouble(i * 0.25), 0.5)).isTrue();
    }
    return blocks;
  }

  /** Bends halfway between two blocks, as only those can be found. */
  private static double bent(double t, double before, double after) {
    return before * t + (after - before) * Math.max(0, t - 6.125);
  }

  @Test
  void finds_a_slope_that_becomes_another_at_once() {
    Blocks blocks = blocks(t -> bent(t, 2, 5));
    assertThat(test.seek(blocks, 0, true, 0.1)).isTrue();
    assertThat(test.at()).isCloseTo(6.125, within(1e-9));
    assertThat(test.before()).isCloseTo(2, within(1e-9));
    assertThat(test.change()).isCloseTo(3, within(1e-9));
    assertThat(test.score()).isGreaterThan(1000);
  }

  /** 0.4 (t - 6.125)² has risen by 0.8 · 3.875 g/s at the end, by half of that on average. */
  @Test
  void finds_a_slope_that_becomes_another_ever_more() {
    Blocks blocks = blocks(t -> 2 * t - 0.4 * Math.pow(Math.max(0, t - 6.125), 2));
    assertThat(test.seek(blocks, 0, false, 0.1)).isTrue();
    assertThat(test.at()).isCloseTo(6.125, within(1e-9));
    assertThat(test.before()).isCloseTo(2, within(1e-9));
    assertThat(test.change()).isCloseTo(-0.4 * 3.875, within(1e-9));
  }

  @Test
  void seeks_only_what_was_asked_for() {
    Blocks upward = blocks(t -> bent(t, 2, 5));
    assertThat(test.seek(upward, 0, false, 0.1)).isFalse();
    assertThat(test.score()).isZero();
    Blocks twice = blocks(t -> bent(t, 2, 5) + 6 * Math.max(0, t - 2.125));
    test.seek(twice, 0, true, 0.1);
    assertThat(test.at()).isLessThanOrEqualTo(4);
    test.seek(twice, 4, true, 0.1);
    assertThat(test.at()).isCloseTo(6.125, within(1e-9));
    Blocks later = blocks(t -> bent(t, 2, 5) + 2 * Math.max(0, t - 8.625));
    test.seek(later, 8, true, 0.1);
    assertThat(test.at()).isGreaterThanOrEqualTo(8);
  }

  @Test
  void straight_course_has_no_score_to_speak_of() {
    Blocks blocks = blocks(t -> 3 + 1.7 * t);
    test.seek(blocks, 0, true, 0.01);
    assertThat(test.score()).isLessThan(1e-6);
  }

  @Test
  void course_that_sways_lowers_the_score() {
    Blocks straight = blocks(t -> bent(t, 2, 2.5));
    Blocks swaying = blocks(t -> bent(t, 2, 2.5) + 0.3 * Math.sin(8 * t));
    test.seek(straight, 0, true, 0.01);
    double alone = test.score();
    test.seek(swaying, 0, true, 0.01);
    assertThat(test.score()).isLessThan(alone / 100).isPositive();
  }

  @Test
  void few_blocks_tell_nothing() {
    assertThat(test.seek(blocks(t -> bent(t, 2, 5)), 8.9, true, 0.1)).isFalse();
  }
}
