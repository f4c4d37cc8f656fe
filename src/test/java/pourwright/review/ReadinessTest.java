package pourwright.review;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import pourwright.coach.Feedback;
import pourwright.review.Rehearsals.Off;

class ReadinessTest {
  private static final Off ON = Off.NOT;
  private static final Off OVER = new Off(3, 0, 0);

  /** Runs in order: {@code c} clean, {@code -} with pour 2 over. */
  private static Readiness after(String course) {
    List<Run> runs = new ArrayList<>();
    for (int i = 0; i < course.length(); i++) {
      runs.add(Rehearsals.run(i + 1L, Feedback.FULL, ON, course.charAt(i) == 'c' ? ON : OVER, ON));
    }
    return PlanReview.listOf(runs).get(0).readiness();
  }

  /** Success-run theorem n = ln(1 − C) / ln R, rounded up: ln 0.05 / ln 0.9 = 28.43. */
  @Test
  void nine_in_ten_at_ninety_five_percent_needs_twenty_nine_in_a_row() {
    assertThat(Readiness.runsNeeded(0.9, 0.95)).isEqualTo(29);
    assertThat(after("c".repeat(28)).isShown()).isFalse();
    assertThat(after("c".repeat(29)).isShown()).isTrue();
    assertThat(after("c".repeat(29)).sentence()).startsWith("Ready by the rule: 29 clean runs");
    assertThat(after("c".repeat(29)).shown()).isGreaterThan(0.9);
  }

  /** 8 of 10: Clopper–Pearson 0.443905 to 0.974789 (exact beta quantiles). */
  @Test
  void the_share_of_clean_runs_has_its_exact_interval() {
    Readiness readiness = after("cc-ccc-ccc");
    assertThat(readiness.clean().successes()).isEqualTo(8);
    assertThat(readiness.interval().low()).isCloseTo(0.443905, within(5e-7));
    assertThat(readiness.interval().high()).isCloseTo(0.974789, within(5e-7));
    assertThat(readiness.streak()).isEqualTo(3);
    assertThat(readiness.sentence())
        .isEqualTo(
            "Not shown yet: 8 of the last 10 runs were clean (95 %: 44 to 97 %), 3 clean runs in a"
                + " row; 29 in a row would show nine in ten.");
  }

  @Test
  void the_row_is_told_in_words() {
    assertThat(after("cc-").sentence()).contains("the last run was not clean");
    assertThat(after("-c").sentence()).contains("1 of the last 2 runs was clean", "one clean run");
    assertThat(after("-").shown()).isZero();
  }

  @Test
  void only_the_last_twenty_runs_count() {
    Readiness readiness = after("-".repeat(30) + "c".repeat(20));
    assertThat(readiness.clean().trials()).isEqualTo(20);
    assertThat(readiness.clean().successes()).isEqualTo(20);
  }

  @Test
  void a_rising_course_promises_more_than_its_share_and_a_falling_one_less() {
    Readiness rising = after("--------c-cc-ccccccc");
    Readiness falling = after("ccccccc-cc-c--------");
    assertThat(rising.coming().orElseThrow().chance()).isGreaterThan(rising.clean().share());
    assertThat(falling.coming().orElseThrow().chance()).isLessThan(falling.clean().share());
    assertThat(rising.coming().orElseThrow().interval().width()).isGreaterThan(0.1);
    assertThat(after("cc-cc-c").coming()).isEmpty();
  }

  @Test
  void the_weakest_pour_is_the_one_most_often_outside() {
    assertThat(after("cc-").weakest().orElseThrow().pour()).isEqualTo(2);
    assertThat(after("ccc").weakest()).isEmpty();
  }
}
