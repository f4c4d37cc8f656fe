package pourwright.detect;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

class StoppingHabitTest {

  @Test
  void before_the_first_pour_it_is_the_usual_one_and_unsure() {
    StoppingHabit habit = new StoppingHabit();
    assertThat(habit.seconds()).isCloseTo(0.2, within(1e-12));
    // 0.1 s from pour to pour, known from one and a half pours: times the root of 1 + 1/1.5
    assertThat(habit.spreadSeconds()).isCloseTo(0.1 * Math.sqrt(1 + 1 / 1.5), within(1e-12));
  }

  @Test
  void each_pour_counts_as_one_beside_the_one_and_a_half_assumed() {
    StoppingHabit habit = new StoppingHabit();
    habit.take(0.4);
    habit.take(0.3);
    double mean = (1.5 * 0.2 + 0.4 + 0.3) / 3.5;
    assertThat(habit.seconds()).isCloseTo(mean, within(1e-12));
    double square = (1.5 * (0.04 + 0.01) + 0.16 + 0.09) / 3.5;
    assertThat(habit.spreadSeconds())
        .isCloseTo(Math.sqrt((square - mean * mean) * (1 + 1 / 3.5)), within(1e-12));
  }

  @Test
  void hand_that_always_stops_alike_becomes_known() {
    StoppingHabit habit = new StoppingHabit();
    for (int i = 0; i < 200; i++) {
      habit.take(0.35);
    }
    assertThat(habit.seconds()).isCloseTo(0.35, within(0.002));
    assertThat(habit.spreadSeconds()).isLessThan(0.02);
  }

  @Test
  void end_that_takes_longer_than_any_hand_counts_as_the_longest() {
    StoppingHabit habit = new StoppingHabit();
    habit.take(5);
    assertThat(habit.seconds()).isCloseTo((1.5 * 0.2 + 0.6) / 2.5, within(1e-12));
  }
}
