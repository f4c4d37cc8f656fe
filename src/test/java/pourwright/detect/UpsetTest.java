package pourwright.detect;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static pourwright.detect.Said.all;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import pourwright.detect.PourEvent.Disturbed;
import pourwright.detect.PourEvent.DripperLifted;
import pourwright.detect.PourEvent.PourEnded;
import pourwright.detect.PourEvent.PourStarted;
import pourwright.detect.PourEvent.ReadingsMissed;
import pourwright.detect.PourEvent.Tared;
import pourwright.units.Mass;

/** What is neither water nor rest: each way into a disturbance and out of it. */
class UpsetTest {

  private static List<Disturbance.Kind> kinds(Analysis analysis) {
    return all(analysis, Disturbed.class).stream().map(Disturbed::kind).toList();
  }

  @Test
  void swirled_rig_is_said_to_be_swirled() {
    Scene scene = new Scene().rest(5).pour(40, 5).rest(4).swirl(0, 15, 1.5, 4).rest(12);
    Analysis analysis = scene.analysed();
    assertThat(kinds(analysis)).containsExactly(Disturbance.Kind.SWIRL);
    assertThat(all(analysis, PourStarted.class)).hasSize(1);
  }

  @Test
  void vessel_lifted_and_put_back_is_no_lift_and_no_pour() {
    Scene scene = new Scene().rest(5).pour(60, 5).rest(6).put(-350).rest(2).put(350).rest(12);
    Analysis analysis = scene.analysed();
    assertThat(kinds(analysis)).containsExactly(Disturbance.Kind.VESSEL_LIFTED);
    assertThat(all(analysis, DripperLifted.class)).isEmpty();
    assertThat(all(analysis, PourStarted.class)).hasSize(1);
  }

  /** The paper is rinsed on the scale, and the water thrown away. */
  @ParameterizedTest
  @ValueSource(doubles = {2.5, 6, 25})
  void water_that_was_thrown_away_is_no_pour_of_the_brew(double secondsAway) {
    Scene scene =
        new Scene()
            .rest(5)
            .pour(60, 7)
            .rest(6)
            .put(-460)
            .rest(secondsAway)
            .put(405)
            .rest(5)
            .put(18)
            .rest(3)
            .tare(0)
            .rest(5)
            .pour(45, 5)
            .rest(30)
            .pour(60, 6)
            .rest(25)
            .put(-190)
            .rest(8);
    Analysis analysis = scene.analysed();
    assertThat(all(analysis, PourEvent.Discarded.class)).hasSize(1);
    assertThat(all(analysis, PourStarted.class))
        .extracting(PourStarted::index)
        .containsExactly(1, 1, 2);
    assertThat(analysis.findings().pours()).hasSize(2);
    assertThat(analysis.findings().pours().get(0).poured().grams()).isCloseTo(45, within(0.3));
    assertThat(analysis.findings().pours().get(1).poured().grams()).isCloseTo(60, within(0.3));
    assertThat(analysis.findings().lift().orElseThrow().removed().grams())
        .isCloseTo(190, within(0.5));
  }

  /** The zero comes before the rig has stood there for long. */
  @Test
  void tare_as_soon_as_the_emptied_rig_stands_hides_nothing() {
    Scene scene = new Scene().rest(3).put(300).rest(5).put(160).rest(6).pour(60, 7);
    scene.rest(8).put(-520).rest(9).put(465).tare(0.9).rest(9).put(18).rest(4).tare(0).rest(5);
    scene.pour(45, 5).rest(20).pour(60, 6);
    Analysis analysis = scene.rest(10).analysed();
    assertThat(all(analysis, PourEvent.Discarded.class)).hasSize(1);
    assertThat(all(analysis, Tared.class)).hasSizeGreaterThanOrEqualTo(2);
    assertThat(analysis.findings().pours()).hasSize(2);
  }

  @Test
  void coffee_after_the_rinsing_is_no_pour_even_without_a_tare() {
    Scene scene = new Scene().rest(5).pour(60, 7).rest(6).put(-460).rest(6).put(405).rest(5);
    scene.trickle(16, 2.6).rest(9).pour(45, 5).rest(20).pour(60, 6).rest(10);
    Analysis analysis = scene.analysed(DetectorSettings.standard().withDose(Mass.ofGrams(16)));
    assertThat(analysis.findings().pours()).hasSize(2);
    assertThat(analysis.findings().pours().get(0).poured().grams()).isCloseTo(45, within(0.3));
  }

  /** Slow enough for water, and little enough for coffee: the tare decides. */
  @Test
  void coffee_that_seemed_to_be_water_is_taken_back_at_the_tare() {
    Scene scene = new Scene().rest(5).trickle(16, 2.4).rest(5).tare(0).rest(5);
    scene.pour(50, 5).rest(20).pour(60, 5).rest(10);
    Analysis analysis = scene.analysed(DetectorSettings.standard().withDose(Mass.ofGrams(16)));
    assertThat(all(analysis, PourEvent.Discarded.class)).hasSize(1);
    assertThat(all(analysis, PourStarted.class))
        .extracting(PourStarted::index)
        .containsExactly(1, 1, 2);
    assertThat(analysis.findings().pours()).hasSize(2);
  }

  @Test
  void first_pour_before_a_tare_stays_where_it_is_more_than_the_coffee() {
    Scene scene = new Scene().rest(5).pour(40, 6).rest(8).tare(0).rest(8).pour(60, 5).rest(10);
    Analysis analysis = scene.analysed(DetectorSettings.standard().withDose(Mass.ofGrams(16)));
    assertThat(all(analysis, PourEvent.Discarded.class)).isEmpty();
    assertThat(analysis.findings().pours()).hasSize(2);
  }

  /** A hand presses on the dripper before it takes it off. */
  private static Scene gripped() {
    return new Scene().rest(5).pour(60, 5).rest(15).pour(60, 5).rest(15).trickle(2.4, 0.6);
  }

  @Test
  void grip_before_the_lift_is_no_pour_once_all_planned_water_is_in() {
    Scene scene = gripped().put(-180).rest(8);
    DetectorSettings planned = DetectorSettings.standard().withPlannedWater(Mass.ofGrams(120));
    assertThat(all(scene.analysed(), PourStarted.class)).hasSize(3);
    assertThat(all(scene.analysed(planned), PourStarted.class)).hasSize(2);
    assertThat(all(scene.analysed(planned), DripperLifted.class)).hasSize(1);
  }

  @Test
  void pour_beyond_the_planned_water_is_a_pour() {
    Scene scene = new Scene().rest(5).pour(60, 5).rest(15).pour(60, 5).rest(15).pour(30, 5);
    scene.rest(8);
    DetectorSettings planned = DetectorSettings.standard().withPlannedWater(Mass.ofGrams(120));
    assertThat(all(scene.analysed(planned), PourStarted.class)).hasSize(3);
  }

  @Test
  void dripper_that_is_put_back_after_a_while_goes_on_with_its_brew() {
    Scene scene =
        new Scene()
            .rest(5)
            .pour(60, 5)
            .rest(6)
            .put(-180)
            .rest(9)
            .put(180)
            .rest(8)
            .pour(50, 5)
            .rest(20)
            .put(-200)
            .rest(8);
    Analysis analysis = scene.analysed();
    assertThat(all(analysis, PourStarted.class))
        .extracting(PourStarted::index)
        .containsExactly(1, 2);
    assertThat(analysis.findings().pours()).hasSize(2);
    assertThat(analysis.findings().lift().orElseThrow().removed().grams())
        .isCloseTo(200, within(0.5));
  }

  @Test
  void hand_that_rests_on_the_rig_leans() {
    Scene scene = new Scene().rest(5).put(40).rest(2).put(-40).rest(8);
    assertThat(kinds(scene.analysed()))
        .containsAnyOf(Disturbance.Kind.LEAN, Disturbance.Kind.OBJECT_PLACED);
    assertThat(all(scene.analysed(), PourStarted.class)).isEmpty();
  }

  @ParameterizedTest
  @ValueSource(doubles = {30, 60, 400})
  void light_and_heavy_drippers_are_lifted(double dripperAndBed) {
    Scene scene = new Scene().rest(5).pour(200, 6).rest(20).put(-dripperAndBed).rest(8);
    DetectorSettings dose = DetectorSettings.standard().withDose(Mass.ofGrams(14));
    Analysis analysis = scene.analysed(dose);
    assertThat(all(analysis, DripperLifted.class)).hasSize(1);
    assertThat(analysis.findings().lift().orElseThrow().removed().grams())
        .isCloseTo(dripperAndBed, within(0.15));
  }

  @Test
  void lift_out_of_what_seemed_to_be_a_pour_is_a_lift() {
    // A hand that takes hold of the dripper presses as a pour would, then lifts.
    Scene scene = new Scene().rest(5).pour(200, 6).rest(20).trickle(8, 1.2).put(-160).rest(8);
    Analysis analysis = scene.analysed();
    assertThat(all(analysis, DripperLifted.class)).hasSize(1);
    assertThat(all(analysis, PourEnded.class)).hasSameSizeAs(all(analysis, PourStarted.class));
    assertThat(analysis.findings().lift()).isPresent();
    assertThat(analysis.findings().pours()).hasSize(1);
  }

  @Test
  void lighter_thing_than_the_known_dripper_is_no_lift() {
    Scene scene = new Scene().rest(5).pour(200, 6).rest(20).put(-60).rest(8);
    DetectorSettings settings =
        DetectorSettings.standard().withDripper(Mass.ofGrams(300)).withDose(Mass.ofGrams(15));
    assertThat(all(scene.analysed(settings), DripperLifted.class)).isEmpty();
  }

  @Test
  void beverage_is_said_with_the_lift_where_the_placing_was_seen() {
    Scene scene =
        new Scene()
            .rest(4)
            .put(300)
            .rest(5)
            .put(150)
            .rest(5)
            .put(15)
            .rest(6)
            .pour(200, 6)
            .rest(20)
            .put(-150 - 15 - 30)
            .rest(8);
    DripperLifted lifted = all(scene.analysed(), DripperLifted.class).get(0);
    assertThat(lifted.beverage()).isPresent();
    assertThat(lifted.beverage().orElseThrow().grams())
        .isCloseTo(scene.pours().get(0).grams() - 30, within(0.5));
  }

  @Test
  void rig_taken_off_an_untared_scale_is_no_tare() {
    Scene scene = new Scene().lag(0.25).rest(4).put(500).rest(8).pour(60, 5).rest(15);
    double all = 500 + scene.pours().get(0).grams();
    Analysis analysis = scene.put(-all).rest(8).analysed();
    assertThat(all(analysis, Tared.class)).isEmpty();
    assertThat(all(analysis, DripperLifted.class)).hasSize(1);
  }

  @Test
  void both_of_two_tares_in_one_pour_are_weighed() {
    Scene scene = new Scene().rate(16).lag(0.05).rest(6).tare(5).tare(7).pour(60, 4.5).rest(12);
    Analysis analysis = scene.analysed();
    assertThat(all(analysis, Tared.class)).hasSize(2);
    assertThat(analysis.findings().pours()).hasSize(1);
    assertThat(analysis.findings().pours().get(0).poured().grams())
        .isCloseTo(scene.pours().get(0).grams(), within(1.2));
  }

  @Test
  void pour_that_begins_in_a_disturbance_is_found() {
    Scene scene = new Scene().rest(6).push(2, 60, 2.2).rest(3.8).pour(60, 5).rest(12);
    Analysis analysis = scene.analysed();
    assertThat(all(analysis, PourStarted.class)).hasSize(1);
    assertThat(all(analysis, PourEnded.class)).hasSize(1);
    assertThat(analysis.findings().pours().get(0).poured().grams())
        .isCloseTo(scene.pours().get(0).grams(), within(1.5));
  }

  @Test
  void pour_soon_after_something_was_taken_for_one_is_not_swallowed() {
    // a hand presses slowly, as a pour would, and lets go; then water comes
    Scene scene = new Scene().rest(6);
    for (int i = 0; i < 12; i++) {
      scene.put(0.5).rest(0.1);
    }
    scene.put(-6).rest(2.5).pour(60, 5).rest(12);
    Analysis analysis = scene.analysed();
    double truth = scene.pours().get(0).start();
    assertThat(all(analysis, PourStarted.class))
        .anyMatch(started -> Math.abs(started.at().seconds() - truth) < 0.6);
    assertThat(analysis.findings().pours()).hasSize(1);
    assertThat(analysis.findings().pours().get(0).poured().grams())
        .isCloseTo(scene.pours().get(0).grams(), within(0.5));
  }

  @Test
  void readings_lost_while_the_rig_is_disturbed_make_no_pour() {
    Scene scene =
        new Scene().rest(6).push(1, 80, 3).loseReadings(2, 3).rest(10).pour(50, 5).rest(10);
    Analysis analysis = scene.analysed();
    assertThat(all(analysis, ReadingsMissed.class)).hasSize(1);
    assertThat(all(analysis, PourStarted.class)).hasSize(1);
    assertThat(analysis.findings().pours()).hasSize(1);
  }

  @Test
  void readings_lost_after_the_dripper_is_off_change_nothing() {
    Scene scene =
        new Scene().rest(5).pour(80, 6).rest(12).put(-300).rest(2).loseReadings(0, 3).rest(8);
    assertThat(all(scene.analysed(), DripperLifted.class)).hasSize(1);
    assertThat(all(scene.analysed(), PourStarted.class)).hasSize(1);
  }

  @Test
  void object_is_put_down_in_a_pour_and_carries_no_water() {
    Scene scene = new Scene().rest(5).pour(30, 5, 0.01).put(80).pour(30, 5, 0.01).rest(12);
    double water = scene.pours().get(0).grams() + scene.pours().get(1).grams();
    Analysis analysis = scene.analysed();
    assertThat(analysis.findings().pours()).hasSize(1);
    assertThat(analysis.findings().pours().get(0).poured().grams()).isCloseTo(water, within(2.0));
  }

  @Test
  void scale_that_swings_after_the_lift_pours_nothing() {
    Scene scene = new Scene().rest(5).pour(80, 6).rest(12).put(-360);
    for (int i = 0; i < 10; i++) {
      scene.rest(0.1).put(1);
    }
    Analysis analysis = scene.rest(8).analysed();
    assertThat(all(analysis, PourStarted.class)).hasSize(1);
    assertThat(all(analysis, DripperLifted.class)).hasSize(1);
  }

  @Test
  void coffee_tipped_in_at_the_pace_of_a_fast_pour_is_no_pour() {
    Scene scene = new Scene().lag(0.4).rest(4).put(300).rest(4).put(150).rest(4);
    for (int i = 0; i < 12; i++) {
      scene.put(1.5).rest(0.1);
    }
    scene.rest(5).pour(50, 5).rest(10);
    DetectorSettings dose = DetectorSettings.standard().withDose(Mass.ofGrams(18));
    assertThat(all(scene.analysed(dose), PourStarted.class)).hasSize(1);
  }

  /** What was only put or leaned on the rig after the last pour is no dripper when it goes. */
  @Test
  void weight_that_only_came_since_the_last_pour_is_no_dripper_when_it_goes() {
    Scene scene = new Scene().rest(5).pour(60, 5).rest(8).put(40).rest(2).trickle(30, 60);
    scene.put(-70).rest(8);
    double lift = scene.now();
    Analysis analysis = scene.put(-200).rest(8).analysed();
    assertThat(all(analysis, DripperLifted.class)).hasSize(1);
    assertThat(analysis.findings().lift().orElseThrow().time().seconds())
        .isCloseTo(lift, within(0.1));
  }

  /** A hand leans ever harder on the rig, like water, and lets go. */
  @Test
  void lean_that_rose_like_water_is_no_lift_when_it_ends() {
    Scene scene = new Scene().rest(5).pour(60, 5).rest(10).trickle(45, 6).put(-45).rest(8);
    scene.pour(50, 5).rest(12);
    double lift = scene.now();
    Analysis analysis = scene.put(-200).rest(8).analysed();
    assertThat(all(analysis, DripperLifted.class)).hasSize(1);
    assertThat(all(analysis, PourStarted.class)).hasSameSizeAs(all(analysis, PourEnded.class));
    assertThat(analysis.findings().pours()).hasSize(2);
    assertThat(analysis.findings().lift().orElseThrow().time().seconds())
        .isCloseTo(lift, within(0.1));
  }

  /** The display of a coarse scale is at zero again by chance. */
  @Test
  void lift_that_leaves_next_to_nothing_on_the_display_is_no_tare() {
    Scene scene = new Scene().resolution(1).noise(0.05).lag(0.03).rest(5).pour(90, 5).rest(10);
    scene.pour(80, 5).rest(12);
    double poured = scene.pours().stream().mapToDouble(Scene.Water::grams).sum();
    Analysis analysis = scene.put(0.2 - poured).rest(8).analysed();
    assertThat(all(analysis, Tared.class)).isEmpty();
    assertThat(all(analysis, DripperLifted.class)).hasSize(1);
  }

  /** Coffee that slow would take two seconds to fall in; water is told as soon as ever. */
  @ParameterizedTest
  @ValueSource(longs = {1, 2, 3})
  void fast_first_pour_is_told_without_waiting_for_a_dose(long seed) {
    Scene scene = new Scene().seed(seed).rest(5).pour(60, 8.3).rest(10);
    PourStarted started = all(scene.analysed(), PourStarted.class).get(0);
    assertThat(started.knownAt().seconds()).isCloseTo(scene.pours().get(0).start(), within(0.75));
  }
}
