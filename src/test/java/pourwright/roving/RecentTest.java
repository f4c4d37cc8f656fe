package pourwright.roving;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import pourwright.reading.Reading;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

class RecentTest {
  private final Recent recent = new Recent();

  private void show(long millis, double grams) {
    recent.add(new Reading(SessionTime.ofMillis(millis), Mass.ofGrams(grams)));
  }

  @Test
  void nothing_heard_is_neither_still_nor_rising() {
    assertThat(recent.stillLevel()).isEmpty();
    assertThat(recent.steadyRise()).isEmpty();
  }

  @Test
  void a_moment_is_too_short_to_be_still_or_rising() {
    show(0, 5);
    show(100, 5);
    assertThat(recent.stillLevel()).isEmpty();
    assertThat(recent.steadyRise()).isEmpty();
  }

  @Test
  void one_level_is_still_and_water_rises() {
    for (int i = 0; i <= 15; i++) {
      show(100L * i, 5);
    }
    assertThat(recent.stillLevel()).contains(5.0);
    for (int i = 1; i <= 15; i++) {
      show(1500 + 100L * i, 5 + 0.6 * i);
    }
    assertThat(recent.stillLevel()).isEmpty();
    assertThat(recent.steadyRise()).isNotEmpty();
  }

  /** As a slow scale showed a rig that was put down half a second before, five times a second. */
  @Test
  void end_of_a_long_tail_is_no_water_though_it_is_nearly_straight() {
    double[] shown = {9.1, 10.5, 11.4, 12.0, 12.5, 12.8};
    for (int i = 0; i < shown.length; i++) {
      show(200L * i, shown[i]);
    }
    assertThat(recent.steadyRise()).isEmpty();
    recent.clear();
    for (int i = 0; i < shown.length; i++) {
      show(5000 + 200L * i, 9.1 + 0.74 * i);
    }
    assertThat(recent.steadyRise()).hasSize(6);
  }

  /** A vessel that is put down makes a bend, not a line. */
  @Test
  void settling_display_is_no_water() {
    for (int i = 0; i <= 15; i++) {
      show(100L * i, 300 - 300 * Math.exp(-i / 3.0));
    }
    assertThat(recent.steadyRise()).isEmpty();
  }

  @Test
  void the_level_before_a_moment_is_the_median_of_the_second_up_to_it() {
    show(0, 90);
    show(900, 10);
    show(1200, 12);
    show(1700, 400);
    show(2000, 77);
    assertThat(recent.levelBefore(SessionTime.ofMillis(1900))).contains(12.0);
    assertThat(recent.levelBefore(SessionTime.ofMillis(2000))).contains(400.0);
    assertThat(recent.levelBefore(SessionTime.ofMillis(890))).contains(90.0);
    assertThat(recent.levelBefore(SessionTime.ofMillis(0))).isEmpty();
  }

  @Test
  void the_highest_is_that_of_the_last_half_second() {
    show(0, 90);
    show(400, 30);
    show(500, 20);
    show(900, 10);
    assertThat(recent.highest()).isEqualTo(30.0);
  }

  /** Of half a second at ten a second, less than three readings say nothing. */
  @Test
  void what_was_cleared_is_forgotten() {
    for (int i = 0; i <= 15; i++) {
      show(100L * i, 5);
    }
    recent.clear();
    show(1600, 5);
    show(1700, 5);
    assertThat(recent.stillLevel()).isEmpty();
    assertThat(recent.levelBefore(SessionTime.ofMillis(1600))).isEmpty();
  }

  /** To and fro by one step of a coarse display is still; by two it is not. */
  @Test
  void a_coarse_display_may_jump_by_one_step() {
    for (int i = 0; i <= 10; i++) {
      show(100L * i, i % 2);
    }
    assertThat(recent.stillLevel().orElseThrow()).isBetween(0.3, 0.7);
    show(1100, 2);
    assertThat(recent.stillLevel()).isEmpty();
  }

  @Test
  void a_fine_display_that_moves_as_much_is_not_still() {
    show(0, 0.1);
    for (int i = 1; i <= 10; i++) {
      show(100L * i, i % 2);
    }
    assertThat(recent.stillLevel()).isEmpty();
  }

  @Test
  void neither_a_drip_nor_a_rig_set_down_rises_like_water() {
    for (double flow : new double[] {1.5, 18, -5}) {
      Recent other = new Recent();
      for (int i = 0; i <= 12; i++) {
        other.add(new Reading(SessionTime.ofMillis(100L * i), Mass.ofGrams(flow * 0.1 * i)));
      }
      assertThat(other.steadyRise()).as("%s g/s", flow).isEmpty();
    }
  }
}
