package pourwright.detect;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import pourwright.rig.Place;

/** What a scale under the server tells, on outflows whose every moment is known. */
class OutflowTest {

  /** Ten readings a second of a mass, with noise and a display of 0.1 g. */
  private static Track server(double seconds, double noise, DoubleUnaryOperator grams) {
    Random random = new Random(7);
    Curve curve = new Curve(Place.SERVER);
    for (int i = 0; i < seconds * 10; i++) {
      double mass = grams.applyAsDouble(i / 10.0) + noise * random.nextGaussian();
      curve.add(i * 100_000_000L, Math.round(mass * 10) * 100_000_000L);
    }
    return new Track(curve);
  }

  /** What has run out by {@code t} when {@code flow} runs between two times. */
  private static double ran(double t, double from, double to, double flow) {
    return flow * (Math.min(Math.max(t, from), to) - from);
  }

  @Test
  void what_is_put_on_the_scale_at_once_is_no_outflow() {
    Track track = server(30, 0.02, t -> t < 10 ? 0 : 250);
    List<PourRefiner.Step> steps = List.of(new PourRefiner.Step(9.8, 10.2, 250, true));
    assertThat(new Outflow(track, steps).massAt(20)).isCloseTo(0, within(0.1));
    assertThat(new Outflow(track, List.of()).massAt(20)).isCloseTo(250, within(0.1));
  }

  @ParameterizedTest
  @ValueSource(doubles = {0.02, 0.15})
  void bed_is_dry_where_the_outflow_breaks_off(double noise) {
    Track track = server(60, noise, t -> ran(t, 8, 30, 2.5) + 0.3 * ran(t, 30, 32, 1));
    double dry = new Outflow(track, List.of()).findDrained(16, 50, false).orElseThrow();
    assertThat(dry).isCloseTo(30, within(0.6));
  }

  @Test
  void bed_that_ran_dry_just_before_the_next_pour_is_still_seen() {
    Track track = server(36, 0.02, t -> ran(t, 8, 29.4, 2.5) + ran(t, 31, 36, 3));
    double dry = new Outflow(track, List.of()).findDrained(16, 30.2, false).orElseThrow();
    assertThat(dry).isCloseTo(29.4, within(0.5));
  }

  @Test
  void bed_that_still_runs_is_not_dry() {
    Track track = server(36, 0.02, t -> ran(t, 8, 60, 2.5));
    assertThat(new Outflow(track, List.of()).findDrained(16, 30, true)).isEmpty();
  }

  @Test
  void silence_is_dryness_only_behind_water_that_ran_or_can_be_held() {
    Outflow never = new Outflow(server(40, 0.02, t -> 0), List.of());
    assertThat(never.findDrained(10, 30, false)).isEmpty();
    assertThat(never.findDrained(10, 30, true)).contains(10.0);

    Outflow whilePoured = new Outflow(server(40, 0.02, t -> ran(t, 4, 10, 3)), List.of());
    assertThat(whilePoured.findDrained(11, 30, false)).contains(11.0);
  }

  @Test
  void recording_of_a_moment_tells_nothing() {
    Outflow outflow = new Outflow(server(0.2, 0, t -> 5), List.of());
    assertThat(outflow.findDrained(0, 0.1, true)).isEmpty();
    assertThat(outflow.massAt(9)).isCloseTo(0, within(1e-9));
  }
}
