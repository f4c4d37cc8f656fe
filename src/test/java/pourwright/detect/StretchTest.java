package pourwright.detect;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

class StretchTest {
  private static Stretch of(Track track, double from, double to) {
    return Stretch.of(track, track.indexAt(from), to, from, to - from);
  }

  @Test
  void rest_is_flat_and_a_flow_is_straight() {
    Track rest = Readings.of(10, t -> t < 1 ? 0 : 55);
    assertThat(of(rest, 2, 3).isFlat()).isTrue();
    assertThat(of(rest, 2, 3).level()).isCloseTo(55, within(0.002));

    Track flow = Readings.of(10, t -> 4 * t);
    assertThat(of(flow, 2, 3).isStraight()).isTrue();
    assertThat(of(flow, 2, 3).isFlat()).isFalse();
    assertThat(of(flow, 2, 3).level()).isCloseTo(10, within(0.01));
    assertThat(of(flow, 2, 3).atZero()).isCloseTo(8, within(0.01));
  }

  @Test
  void knee_or_step_is_neither() {
    assertThat(of(Readings.of(10, t -> Math.max(0, 3 * (t - 5))), 4.5, 5.5).isStraight()).isFalse();
    assertThat(of(Readings.of(10, t -> t < 5 ? 0 : 1), 4.5, 5.5).isFlat()).isFalse();
  }

  @Test
  void stretch_without_readings_enough_tells_nothing() {
    Track track = Readings.of(10, t -> 55);
    assertThat(of(track, 2, 2.06).isStraight()).isFalse(); // two readings
    assertThat(of(track, 2, 2.11).isStraight()).isTrue(); // three
    assertThat(of(track, 9.5, 10.5).isStraight()).isFalse(); // half of it is beyond the end
    assertThat(of(track, 10.2, 11).isStraight()).isFalse();
  }
}
