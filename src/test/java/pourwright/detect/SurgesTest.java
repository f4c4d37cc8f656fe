package pourwright.detect;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import pourwright.detect.PourEvent.BedDrained;
import pourwright.detect.PourEvent.PourEnded;
import pourwright.detect.PourEvent.PourStarted;
import pourwright.reading.Stability;
import pourwright.rig.Place;
import pourwright.rig.Rig;

/** What is said while the server fills, on outflows whose every corner is known. */
class SurgesTest {

  /** Poured on from 8 to 18 s and from 26 to 34 s, dry at 48 s. */
  private static final double[] TWICE = {8, 0, 8.2, 0.8, 18, 4, 26, 2.4, 34, 4.5, 48, 0.7, 48.2, 0};

  private static List<PourEvent> said(double seconds, DoubleUnaryOperator grams) {
    return Analysis.of(
            Rig.SERVER, DetectorSettings.standard(), List.of(Outflows.curve(seconds, grams)))
        .announced();
  }

  @Test
  void outflow_that_swells_again_before_the_bed_is_dry_is_another_pour() {
    List<PourEvent> said = said(60, Outflows.ran(TWICE));
    List<PourStarted> starts = Said.all(said, PourStarted.class);
    List<PourEnded> ends = Said.all(said, PourEnded.class);
    assertThat(starts).extracting(PourStarted::index).containsExactly(1, 2);
    assertThat(ends).extracting(PourEnded::index).containsExactly(1, 2);
    assertThat(starts.get(0).at().seconds()).isCloseTo(8, within(0.3));
    assertThat(ends.get(0).at().seconds()).isCloseTo(18, within(0.5));
    assertThat(starts.get(1).at().seconds()).isCloseTo(26, within(0.5));
    assertThat(ends.get(1).at().seconds()).isCloseTo(34, within(0.5));
    assertThat(starts.get(1).knownAt().seconds()).isBetween(26.6, 29.0);
    assertThat(ends.get(1).knownAt().seconds()).isBetween(35.0, 36.5);
  }

  @Test
  void bed_is_dry_once_when_nothing_runs_any_more() {
    List<BedDrained> dry = Said.all(said(60, Outflows.ran(TWICE)), BedDrained.class);
    assertThat(dry).hasSize(1);
    assertThat(dry.get(0).afterPour()).isEqualTo(2);
    assertThat(dry.get(0).at().seconds()).isCloseTo(48, within(0.4));
    assertThat(dry.get(0).basis()).isEqualTo(Basis.MEASURED);
  }

  /** 10 s at the 6 g/s of a usual hand, of which 23 g ran out by then. */
  @Test
  void water_of_a_pour_is_guessed_from_its_duration_while_it_stands_on_the_bed() {
    List<PourEnded> ends = Said.all(said(60, Outflows.ran(TWICE)), PourEnded.class);
    assertThat(ends.get(0).poured().grams()).isCloseTo(60, within(4.0));
  }

  /** The outflow never swells by more than a bed lets through at once: 40 g in 5 s. */
  @Test
  void what_ran_out_was_poured_at_least() {
    List<PourEvent> said = said(40, Outflows.ran(8, 0, 8.3, 8, 13, 8.4, 14, 0));
    PourEnded end = Said.all(said, PourEnded.class).get(0);
    assertThat(end.poured().grams()).isCloseTo(42, within(4.0));
    assertThat(Said.all(said, BedDrained.class)).hasSize(1);
  }

  @Test
  void outflow_that_falls_and_swells_again_at_once_is_the_same_pour() {
    DoubleUnaryOperator pause = Outflows.ran(8, 0, 16, 4, 17.5, 3.4, 24, 5, 45, 0.5, 45.2, 0);
    List<PourEvent> said = said(60, pause);
    assertThat(Said.all(said, PourStarted.class)).hasSize(1);
    assertThat(Said.all(said, PourEnded.class)).hasSize(1);
  }

  @Test
  void single_drops_are_no_pour() {
    DoubleUnaryOperator drops = t -> 0.06 * Math.floor(Math.max(0, t - 8) / 0.9);
    assertThat(Said.all(said(40, drops), PourStarted.class)).isEmpty();
  }

  @Test
  void steady_outflow_is_one_pour_without_an_end() {
    List<PourEvent> said = said(40, Outflows.ran(8, 0, 10, 3));
    assertThat(Said.all(said, PourStarted.class)).hasSize(1);
    assertThat(Said.all(said, PourEnded.class)).isEmpty();
  }

  @Test
  void what_is_done_is_told_by_the_outflow() {
    Curve curve = Outflows.curve(60, Outflows.ran(TWICE));
    Detector detector = new Detector(Rig.SERVER, DetectorSettings.standard(), event -> {});
    List<Outlook> seen = new ArrayList<>();
    for (int i = 0; i < curve.size(); i++) {
      detector.weigh(Place.SERVER, curve.atNanos(i), curve.nanograms(i), Stability.UNSTATED);
      seen.add(detector.outlook());
    }
    Outlook filling = seen.get(15 * 20);
    assertThat(filling.doing()).isEqualTo(Outlook.Doing.POURING);
    assertThat(filling.pour()).isEqualTo(1);
    assertThat(filling.landing()).isEmpty();
    double first = Outflows.ran(TWICE).applyAsDouble(15);
    assertThat(filling.inThisPour().grams()).isCloseTo(first, within(0.3));
    assertThat(filling.poured().grams()).isCloseTo(first, within(0.3));
    Outlook draining = seen.get(22 * 20);
    assertThat(draining.doing()).isEqualTo(Outlook.Doing.DRAINING);
    assertThat(draining.inThisPour().nanograms()).isZero();
    Outlook again = seen.get(32 * 20);
    assertThat(again.doing()).isEqualTo(Outlook.Doing.POURING);
    assertThat(again.pour()).isEqualTo(2);
    double ran = Outflows.ran(TWICE).applyAsDouble(32);
    assertThat(again.poured().grams()).isCloseTo(ran, within(0.3));
    assertThat(again.inThisPour().grams()).isLessThan(ran - 40);
    assertThat(seen.get(55 * 20).doing()).isEqualTo(Outlook.Doing.RESTING);
  }

  @Test
  void tare_while_it_runs_changes_no_count_of_the_pours() {
    DoubleUnaryOperator ran = Outflows.ran(TWICE);
    double taken = ran.applyAsDouble(22);
    List<PourEvent> said = said(60, t -> ran.applyAsDouble(t) - (t < 22 ? 0 : taken));
    assertThat(Said.all(said, PourEvent.Tared.class)).hasSize(1);
    assertThat(Said.all(said, PourStarted.class)).hasSize(2);
    assertThat(Said.all(said, PourEnded.class)).hasSize(2);
  }

  @Test
  void lean_on_the_server_is_told_and_no_pour() {
    DoubleUnaryOperator ran = Outflows.ran(TWICE);
    List<PourEvent> said = said(60, t -> ran.applyAsDouble(t) + (t > 21 && t < 23 ? 150 : 0));
    assertThat(Said.all(said, PourEvent.Disturbed.class)).isNotEmpty();
    assertThat(Said.all(said, PourStarted.class)).hasSize(2);
  }

  @Test
  void nothing_said_depends_on_what_comes_later() {
    Curve whole = Outflows.curve(60, Outflows.ran(TWICE));
    List<PourEvent> all = said(60, Outflows.ran(TWICE));
    for (int seconds = 5; seconds < 60; seconds += 5) {
      List<PourEvent> part = said(seconds, Outflows.ran(TWICE));
      long last = whole.atNanos(seconds * 20 - 1);
      assertThat(part)
          .isEqualTo(all.stream().filter(event -> event.knownAt().nanos() <= last).toList());
    }
  }
}
