package pourwright.session;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Optional;
import org.junit.jupiter.api.Test;
import pourwright.detect.PourEvent;
import pourwright.detect.PourEvent.PourEnded;
import pourwright.detect.PourEvent.PourStarted;
import pourwright.detect.PourEvent.Tared;
import pourwright.rig.Place;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

class PreludeTest {
  private static final Mass DOSE = Mass.ofMilligrams(16_000);

  private final Prelude prelude = new Prelude(Optional.of(DOSE));

  private static SessionTime s(double seconds) {
    return SessionTime.ofSeconds(seconds);
  }

  private static PourEvent started(int index, double at) {
    return new PourStarted(index, s(at), s(at + 0.5));
  }

  private static PourEvent ended(int index, double at, double grams) {
    return new PourEnded(index, s(at), s(at + 1), Mass.ofGrams(grams));
  }

  private static PourEvent tared(double at) {
    return new Tared(Place.WHOLE, s(at), s(at + 0.2), Mass.ofGrams(400));
  }

  @Test
  void a_pour_on_an_armed_rig_counts_at_once() {
    assertThat(prelude.admit(started(1, 10), true)).containsExactly(started(1, 10));
    assertThat(prelude.admit(ended(1, 18, 42), true)).containsExactly(ended(1, 18, 42));
  }

  @Test
  void grounds_that_trickled_in_before_the_tare_are_no_pour() {
    assertThat(prelude.admit(started(1, 3), false)).isEmpty();
    assertThat(prelude.look(Mass.ofGrams(8))).isEmpty();
    assertThat(prelude.admit(ended(1, 5, 16), false)).isEmpty();
    assertThat(prelude.admit(tared(6), false)).isEmpty();

    assertThat(prelude.admit(started(2, 10), true)).containsExactly(started(1, 10));
    assertThat(prelude.admit(ended(2, 18, 42), true)).containsExactly(ended(1, 18, 42));
  }

  @Test
  void water_that_was_thrown_away_puts_everything_back_to_the_beginning() {
    PourEvent emptied = new PourEvent.Discarded(s(20), s(28));
    prelude.admit(started(1, 3), true);
    prelude.admit(ended(1, 9, 60), true);
    assertThat(prelude.admit(emptied, false)).containsExactly(emptied);

    assertThat(prelude.admit(started(1, 40), true)).containsExactly(started(1, 40));
    assertThat(prelude.admit(ended(1, 48, 42), true)).containsExactly(ended(1, 48, 42));
  }

  @Test
  void water_that_was_thrown_away_before_it_counted_is_not_told() {
    prelude.admit(started(1, 3), false);
    assertThat(prelude.admit(new PourEvent.Discarded(s(20), s(28)), false)).isEmpty();
    assertThat(prelude.look(Mass.ofGrams(60))).isEmpty();
  }

  @Test
  void grounds_still_running_at_the_tare_stay_out_of_it() {
    prelude.admit(started(1, 3), false);
    prelude.admit(tared(4), false);
    prelude.admit(started(2, 10), true);

    assertThat(prelude.admit(ended(1, 11, 16), true)).isEmpty();
  }

  @Test
  void water_on_a_rig_that_is_never_tared_counts_once_it_is_more_than_a_dose() {
    prelude.admit(started(1, 3), false);
    assertThat(prelude.look(Mass.ofGrams(23.9))).isEmpty();
    assertThat(prelude.look(Mass.ofGrams(24.1))).containsExactly(started(1, 3));
    assertThat(prelude.look(Mass.ofGrams(30))).isEmpty();
    assertThat(prelude.admit(ended(1, 12, 42), false)).containsExactly(ended(1, 12, 42));
  }

  @Test
  void a_small_first_pour_and_a_second_one_count_together() {
    prelude.admit(started(1, 3), false);
    prelude.admit(ended(1, 7, 20), false);
    prelude.admit(started(2, 30), false);

    assertThat(prelude.look(Mass.ofGrams(6)))
        .containsExactly(started(1, 3), ended(1, 7, 20), started(2, 30));
  }

  @Test
  void a_tare_in_mid_brew_discards_nothing() {
    prelude.admit(started(1, 3), true);

    assertThat(prelude.admit(tared(5), true)).containsExactly(tared(5));
    assertThat(prelude.admit(ended(1, 12, 42), true)).containsExactly(ended(1, 12, 42));
  }
}
