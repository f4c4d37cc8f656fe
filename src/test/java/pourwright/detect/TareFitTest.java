package pourwright.detect;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import java.util.function.DoubleUnaryOperator;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import pourwright.detect.PourEvent.Disturbed;
import pourwright.detect.PourEvent.Tared;
import pourwright.rig.Place;
import pourwright.units.Mass;

/** Tares at ten seconds, on loads whose every moment is known. */
class TareFitTest {
  private static final double AT = 10;

  private static Tared tared(double grams) {
    return new Tared(Place.WHOLE, Readings.at(AT), Readings.at(AT + 0.8), Mass.ofGrams(grams));
  }

  private static double taken(DoubleUnaryOperator shown, double said, PourEvent... others) {
    Track track = Readings.of(20, shown);
    List<PourEvent> announced =
        Stream.concat(Arrays.stream(others), Stream.of(tared(said))).toList();
    List<PourEvent> measured = TareFit.measured(announced, track);
    assertThat(measured).hasSameSizeAs(announced);
    assertThat(measured.subList(0, others.length)).containsExactly(others);
    Tared last = (Tared) measured.get(others.length);
    assertThat(last.at()).isEqualTo(Readings.at(AT));
    assertThat(last.knownAt()).isEqualTo(Readings.at(AT + 0.8));
    return last.taken().grams();
  }

  @Test
  void between_two_rests_it_is_the_difference_of_the_levels() {
    assertThat(taken(t -> t < AT ? 123.4 : 0, 122.9)).isCloseTo(123.4, within(0.005));
  }

  @Test
  void levels_are_those_next_to_it_not_those_of_long_before_or_after() {
    DoubleUnaryOperator shown =
        t ->
            t < 7 ? 90 : t < 8.2 ? 90 + 25 * (t - 7) : t < AT ? 120 : t < 11.8 ? 0 : 6 * (t - 11.8);
    assertThat(taken(shown, 120.4)).isCloseTo(120, within(0.005));
  }

  /** The finger pushes by up to 3 g for a third of a second; the display forgets what it sees. */
  @Test
  void finger_on_the_button_is_not_weighed() {
    DoubleUnaryOperator finger =
        t -> t < 9.7 || t > 10.05 ? 0 : 3 * Math.sin(Math.PI * (t - 9.7) / 0.35);
    double forgotten = 100 + finger.applyAsDouble(AT);
    DoubleUnaryOperator shown = t -> 100 + finger.applyAsDouble(t) - (t < AT ? 0 : forgotten);
    assertThat(forgotten).isCloseTo(101.3, within(0.01));
    assertThat(taken(shown, 102.2)).isCloseTo(forgotten, within(0.005));
  }

  @Test
  void where_water_runs_the_straight_lines_of_the_flow_tell() {
    DoubleUnaryOperator shown = t -> t < AT ? 20 + 5 * (t - AT) : 5 * (t - AT);
    assertThat(taken(shown, 20.6)).isCloseTo(20, within(0.02));
  }

  @Test
  void what_differs_by_more_than_a_measurement_can_is_left_as_it_was_said() {
    assertThat(taken(t -> t < AT ? 100 : 0, 50)).isEqualTo(50);
    // unless something pushed just before
    Disturbed push =
        new Disturbed(Readings.at(9.5), Readings.at(9.9), Readings.at(10.5), Disturbance.Kind.BUMP);
    assertThat(taken(t -> t < AT ? 100 : 0, 50, push)).isCloseTo(100, within(0.005));
    Disturbed longBefore =
        new Disturbed(Readings.at(9), Readings.at(9.4), Readings.at(10), Disturbance.Kind.BUMP);
    assertThat(taken(t -> t < AT ? 100 : 0, 50, longBefore)).isEqualTo(50);
    Disturbed after =
        new Disturbed(Readings.at(10.2), Readings.at(11), Readings.at(12), Disturbance.Kind.BUMP);
    assertThat(taken(t -> t < AT ? 100 : 0, 50, after)).isEqualTo(50);
  }

  @Test
  void where_nothing_rests_or_runs_straight_it_is_left_as_it_was_said() {
    assertThat(taken(t -> t < AT ? 100 : 30 * Math.sin(9 * t), 99.2)).isEqualTo(99.2);
    assertThat(taken(t -> t < AT ? 100 + 30 * Math.sin(9 * t) : 0, 99.2)).isEqualTo(99.2);
  }
}
