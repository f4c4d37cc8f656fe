package pourwright.detect;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import pourwright.detect.Outlook.Doing;
import pourwright.detect.PourEvent.Discarded;
import pourwright.detect.PourEvent.Disturbed;
import pourwright.detect.PourEvent.DripperLifted;
import pourwright.detect.PourEvent.PourEnded;
import pourwright.detect.PourEvent.PourStarted;
import pourwright.detect.PourEvent.ReadingsMissed;
import pourwright.detect.PourEvent.Tared;
import pourwright.reading.Stability;
import pourwright.rig.Place;
import pourwright.rig.Rig;

/** What each phase makes of a time without readings, and of a dripper that comes back. */
class PhaseTest {

  /** What was announced, and the phases in the order in which they were shown. */
  private record Seen(List<PourEvent> announced, List<Doing> phases, double lastPoured) {
    static Seen of(Scene scene) {
      Curve curve = scene.curve();
      List<PourEvent> announced = new ArrayList<>();
      List<Doing> phases = new ArrayList<>();
      Detector detector = new Detector(Rig.WHOLE, DetectorSettings.standard(), announced::add);
      for (int i = 0; i < curve.size(); i++) {
        detector.weigh(Place.WHOLE, curve.atNanos(i), curve.nanograms(i), Stability.UNSTATED);
        Doing doing = detector.outlook().doing();
        if (phases.isEmpty() || phases.get(phases.size() - 1) != doing) {
          phases.add(doing);
        }
      }
      return new Seen(announced, phases, detector.outlook().poured().grams());
    }

    <E extends PourEvent> List<E> all(Class<E> kind) {
      return Said.all(announced, kind);
    }

    <E extends PourEvent> E only(Class<E> kind) {
      assertThat(all(kind)).as("of %s", announced).hasSize(1);
      return all(kind).get(0);
    }

    private Seen says(List<Class<? extends PourEvent>> kinds) {
      assertThat(announced).<Class<?>>extracting(PourEvent::getClass).isEqualTo(kinds);
      return this;
    }
  }

  @Test
  void gap_at_rest_is_a_gap_and_nothing_more() {
    Seen seen = Seen.of(new Scene().rest(6).loseReadings(0, 4).rest(12));
    seen.says(List.of(ReadingsMissed.class));
    assertThat(seen.only(ReadingsMissed.class).at().seconds()).isCloseTo(6, within(0.11));
    assertThat(seen.phases())
        .containsExactly(Doing.SETTLING, Doing.RESTING, Doing.BLIND, Doing.RESTING);
  }

  @Test
  void pour_that_came_and_went_in_a_gap_is_one_between_its_ends() {
    Scene scene = new Scene().rest(6).loseReadings(-0.5, 10).pour(40, 5).rest(12);
    Seen seen = Seen.of(scene);
    seen.says(List.of(ReadingsMissed.class, PourStarted.class, PourEnded.class));
    PourEnded ended = seen.only(PourEnded.class);
    assertThat(ended.poured().grams()).isCloseTo(40, within(0.2));
    assertThat(seen.only(PourStarted.class).at().seconds()).isCloseTo(5.4, within(0.11));
    assertThat(ended.at().seconds()).isCloseTo(15.5, within(0.11));
    assertThat(seen.lastPoured()).isCloseTo(40, within(0.2));
    assertThat(seen.phases())
        .containsExactly(Doing.SETTLING, Doing.RESTING, Doing.BLIND, Doing.RESTING);
  }

  /** The flow afterwards tells when it began: 60 g at 5 g/s, seen from 5 s after the start on. */
  @Test
  void pour_that_began_in_a_gap_began_where_its_flow_points_back_to() {
    Scene scene = new Scene().rest(8).loseReadings(-3, 8).pour(60, 5).rest(12);
    Seen seen = Seen.of(scene);
    seen.says(List.of(ReadingsMissed.class, PourStarted.class, PourEnded.class));
    assertThat(seen.only(PourStarted.class).at().seconds()).isCloseTo(8.13, within(0.25));
    assertThat(seen.only(PourEnded.class).poured().grams()).isCloseTo(60, within(0.3));
    assertThat(seen.phases())
        .containsExactly(Doing.SETTLING, Doing.RESTING, Doing.BLIND, Doing.POURING, Doing.RESTING);
  }

  /** It ended where its flow before the gap reaches what was found after it. */
  @Test
  void pour_that_ended_in_a_gap_ended_where_its_flow_reaches_the_level_after() {
    Scene scene = new Scene().rest(6).loseReadings(5, 9).pour(40, 5).rest(14);
    Seen seen = Seen.of(scene);
    seen.says(List.of(PourStarted.class, ReadingsMissed.class, PourEnded.class));
    PourEnded ended = seen.only(PourEnded.class);
    assertThat(ended.poured().grams()).isCloseTo(40, within(0.2));
    assertThat(ended.at().seconds()).isCloseTo(scene.pours().get(0).end(), within(0.5));
    assertThat(seen.phases())
        .containsExactly(Doing.SETTLING, Doing.RESTING, Doing.POURING, Doing.BLIND, Doing.RESTING);
  }

  @Test
  void pour_does_not_last_through_a_gap_longer_than_any() {
    Scene scene = new Scene().rest(6).loseReadings(4, 25).pour(30, 5).rest(20).pour(40, 5).rest(10);
    Seen seen = Seen.of(scene);
    List<PourEnded> ends = seen.all(PourEnded.class);
    assertThat(ends).hasSize(2);
    assertThat(seen.all(PourStarted.class)).hasSize(2);
    // of the first no more than what was seen of it: four seconds at 5 g/s, an opening hand, a lag
    assertThat(ends.get(0).poured().grams()).isCloseTo(18.8, within(0.7));
    assertThat(ends.get(0).at().seconds()).isCloseTo(10, within(0.11));
    assertThat(ends.get(0).poured().grams() + ends.get(1).poured().grams())
        .isCloseTo(70, within(0.3));
    assertThat(seen.lastPoured()).isCloseTo(70, within(0.3));
  }

  @Test
  void gap_shorter_than_that_leaves_a_pour_one() {
    Scene scene = new Scene().rest(6).loseReadings(3, 14).pour(100, 5).rest(12);
    Seen seen = Seen.of(scene);
    assertThat(seen.only(PourEnded.class).poured().grams()).isCloseTo(100, within(0.3));
    assertThat(seen.phases())
        .containsExactly(
            Doing.SETTLING,
            Doing.RESTING,
            Doing.POURING,
            Doing.BLIND,
            Doing.POURING,
            Doing.RESTING);
  }

  /** Of four seconds without readings water needed less than half: it rested in between. */
  @Test
  void pause_that_readings_were_lost_in_parts_two_pours() {
    Scene scene = new Scene().rest(6).pour(40, 5).loseReadings(-0.6, 4).rest(3).pour(50, 5);
    Seen seen = Seen.of(scene.rest(12));
    List<PourEnded> ends = seen.all(PourEnded.class);
    assertThat(ends).hasSize(2);
    assertThat(ends.get(0).at().seconds()).isCloseTo(scene.pours().get(0).end(), within(0.5));
    assertThat(ends.get(0).poured().grams()).isCloseTo(40, within(1.5));
    List<PourStarted> starts = seen.all(PourStarted.class);
    assertThat(starts).hasSize(2);
    assertThat(starts.get(1).at().seconds()).isCloseTo(scene.pours().get(1).start(), within(0.5));
    assertThat(seen.lastPoured()).isCloseTo(90, within(0.3));
  }

  /** A pause of 1.5 s may belong to one pour. */
  @Test
  void shorter_pause_in_a_gap_may_be_one_pour() {
    Scene scene = new Scene().rest(6).pour(40, 5).loseReadings(-0.6, 3).rest(1.5).pour(50, 5);
    assertThat(Seen.of(scene.rest(12)).all(PourStarted.class)).hasSize(1);
  }

  /** The end of a pour is said once, though it seemed to go on in the gap. */
  @Test
  void gap_that_begins_with_rest_parts_the_pours_too() {
    Scene scene = new Scene().rest(6).pour(40, 5).loseReadings(0.3, 3.5).rest(3).pour(50, 5);
    Seen seen = Seen.of(scene.rest(12));
    assertThat(seen.all(PourEnded.class)).extracting(PourEnded::index).containsExactly(1, 2);
    assertThat(seen.lastPoured()).isCloseTo(90, within(0.3));
  }

  @Test
  void second_gap_before_the_first_is_understood_is_told_too() {
    Scene scene =
        new Scene().rest(6).loseReadings(-0.5, 4).loseReadings(3.8, 3).pour(60, 5).rest(12);
    Seen seen = Seen.of(scene);
    seen.says(
        List.of(ReadingsMissed.class, ReadingsMissed.class, PourStarted.class, PourEnded.class));
    assertThat(seen.only(PourEnded.class).poured().grams()).isCloseTo(60, within(0.3));
    assertThat(seen.only(PourStarted.class).at().seconds()).isCloseTo(6.13, within(0.35));
  }

  @Test
  void dripper_that_was_taken_in_a_gap_was_lifted() {
    Scene scene = new Scene().rest(5).pour(50, 5).rest(20).loseReadings(-1, 3).put(-180).rest(12);
    Seen seen = Seen.of(scene);
    DripperLifted lifted = seen.only(DripperLifted.class);
    assertThat(lifted.removed().grams()).isCloseTo(180, within(0.3));
    assertThat(seen.all(PourStarted.class)).hasSize(1);
    assertThat(seen.phases().get(seen.phases().size() - 1)).isEqualTo(Doing.LIFTED);
  }

  @Test
  void gaps_while_the_dripper_is_off_change_nothing() {
    Scene scene =
        new Scene()
            .rest(5)
            .pour(50, 5)
            .rest(20)
            .put(-180)
            .loseReadings(1, 1.5)
            .loseReadings(7, 2)
            .rest(15);
    Seen seen = Seen.of(scene);
    seen.says(
        List.of(
            PourStarted.class,
            PourEnded.class,
            ReadingsMissed.class,
            DripperLifted.class,
            ReadingsMissed.class));
    assertThat(seen.only(DripperLifted.class).at().seconds()).isCloseTo(35.25, within(0.3));
  }

  @Test
  void lift_is_believed_only_when_nothing_comes_back_for_a_while() {
    Scene scene = new Scene().rest(5).pour(50, 5).rest(20).put(-180).rest(12);
    Seen seen = Seen.of(scene);
    DripperLifted lifted = seen.only(DripperLifted.class);
    assertThat(lifted.knownAt().secondsSince(lifted.at())).isBetween(4.0, 4.8);
    assertThat(seen.phases())
        .containsExactly(
            Doing.SETTLING,
            Doing.RESTING,
            Doing.POURING,
            Doing.RESTING,
            Doing.DISTURBED,
            Doing.LIFTED);
  }

  @Test
  void brew_goes_on_when_a_dripper_that_was_long_off_comes_back() {
    Scene scene =
        new Scene()
            .rest(5)
            .pour(50, 5)
            .rest(10)
            .put(-180)
            .rest(9)
            .put(178)
            .rest(8)
            .pour(40, 5)
            .rest(10);
    Seen seen = Seen.of(scene);
    seen.says(
        List.of(
            PourStarted.class,
            PourEnded.class,
            DripperLifted.class,
            Disturbed.class,
            PourStarted.class,
            PourEnded.class));
    Disturbed back = seen.only(Disturbed.class);
    assertThat(back.kind()).isEqualTo(Disturbance.Kind.VESSEL_LIFTED);
    assertThat(back.at().seconds()).isCloseTo(25.25, within(0.3));
    assertThat(back.until().seconds()).isCloseTo(34.25, within(0.8));
    assertThat(seen.all(PourEnded.class).get(1).poured().grams()).isCloseTo(40, within(0.2));
    assertThat(seen.all(PourEnded.class).get(1).index()).isEqualTo(2);
    assertThat(seen.lastPoured()).isCloseTo(90, within(0.4));
  }

  /** Most of a dripper is a dripper; a spoon is not. */
  @Test
  void something_small_on_the_server_is_no_dripper_that_came_back() {
    Scene scene =
        new Scene().rest(5).pour(50, 5).rest(10).put(-180).rest(9).put(60).rest(8).put(40).rest(8);
    Seen seen = Seen.of(scene);
    seen.says(List.of(PourStarted.class, PourEnded.class, DripperLifted.class, Disturbed.class));
    assertThat(seen.only(Disturbed.class).until().seconds()).isCloseTo(42.25, within(0.8));
  }

  @Test
  void tare_while_the_dripper_is_off_is_told_when_it_is_back() {
    Scene scene =
        new Scene()
            .offset(400)
            .rest(5)
            .pour(50, 5)
            .rest(10)
            .put(-180)
            .tare(7)
            .rest(10)
            .put(180)
            .rest(8)
            .pour(40, 5)
            .rest(10);
    Seen seen = Seen.of(scene);
    Tared tared = seen.only(Tared.class);
    assertThat(tared.taken().grams()).isCloseTo(400 + 50 - 180, within(0.5));
    assertThat(tared.at().seconds()).isCloseTo(32.25, within(0.3));
    assertThat(seen.all(PourEnded.class)).hasSize(2);
    assertThat(seen.all(PourEnded.class).get(1).poured().grams()).isCloseTo(40, within(0.2));
    assertThat(seen.lastPoured()).isCloseTo(90, within(0.6));
  }

  @Test
  void dripper_that_comes_back_without_the_water_was_only_rinsed() {
    Scene scene =
        new Scene()
            .rest(5)
            .pour(60, 7)
            .rest(6)
            .put(-180)
            .rest(9)
            .put(125)
            .rest(6)
            .pour(45, 5)
            .rest(10);
    Seen seen = Seen.of(scene);
    assertThat(seen.only(Discarded.class).at().seconds()).isCloseTo(19.8, within(0.4));
    assertThat(seen.all(PourStarted.class)).extracting(PourStarted::index).containsExactly(1, 1);
    assertThat(seen.lastPoured()).isCloseTo(45, within(0.3));
  }
}
