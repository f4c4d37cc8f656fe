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

  /** A vessel that is put down makes a bend, not a line. */
  @Test
  void settling_display_is_no_water() {
    for (int i = 0; i <= 15; i++) {
      show(100L * i, 300 - 300 * Math.exp(-i / 3.0));
    }
    assertThat(recent.steadyRise()).isEmpty();
  }
}
