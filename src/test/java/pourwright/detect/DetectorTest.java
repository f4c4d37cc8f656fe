package pourwright.detect;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static pourwright.detect.Said.all;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import pourwright.detect.PourEvent.Disturbed;
import pourwright.detect.PourEvent.DripperLifted;
import pourwright.detect.PourEvent.PourEnded;
import pourwright.detect.PourEvent.PourStarted;
import pourwright.detect.PourEvent.ReadingsMissed;
import pourwright.detect.PourEvent.Tared;

/** One scenario for each pair of phases that can follow each other. */
class DetectorTest {

  private static void finds(Scene scene, Analysis analysis, double massError) {
    List<PourStarted> starts = all(analysis, PourStarted.class);
    List<PourEnded> ends = all(analysis, PourEnded.class);
    assertThat(starts).as("starts in %s", analysis.announced()).hasSameSizeAs(scene.pours());
    assertThat(ends).as("ends in %s", analysis.announced()).hasSameSizeAs(scene.pours());
    for (int i = 0; i < starts.size(); i++) {
      Scene.Water truth = scene.pours().get(i);
      assertThat(starts.get(i).index()).isEqualTo(i + 1);
      assertThat(starts.get(i).at().seconds()).isCloseTo(truth.start(), within(0.6));
      assertThat(starts.get(i).knownAt().seconds() - truth.start()).isBetween(0.0, 1.2);
      assertThat(ends.get(i).knownAt().seconds() - truth.end()).isBetween(0.5, 2.0);
      assertThat(ends.get(i).poured().grams()).isCloseTo(truth.grams(), within(massError));
    }
  }

  @Test
  void rest_alone_says_nothing() {
    assertThat(new Scene().rest(300).analysed().announced()).isEmpty();
  }

  @ParameterizedTest
  @ValueSource(doubles = {4, 5, 10, 20, 33, 80})
  void two_pours_are_found_at_any_rate(double rate) {
    Scene scene = new Scene().rate(rate).rest(5).pour(40, 5).rest(20).pour(70, 6).rest(10);
    finds(scene, scene.analysed(), 0.5);
  }

  @Test
  void gentle_pour_on_a_coarse_scale_is_found() {
    Scene scene = new Scene().resolution(1).noise(0.05).rest(5).pour(30, 2.5).rest(10);
    finds(scene, scene.analysed(), 1.5);
  }

  @Test
  void slow_scale_does_not_cut_the_tail() {
    Scene scene = new Scene().lag(0.7).rest(5).pour(60, 6).rest(12).pour(60, 6).rest(10);
    finds(scene, scene.analysed(), 1.5);
  }

  @Test
  void evaporation_and_single_drips_are_no_pours() {
    Scene scene = new Scene().evaporation(0.06).rest(10).put(0.3).rest(5).put(0.2).rest(60);
    assertThat(all(scene.analysed(), PourStarted.class)).isEmpty();
  }

  @Test
  void pause_shorter_than_a_second_does_not_split() {
    Scene scene = new Scene().rest(5).pour(20, 5).rest(0.6).pour(20, 5).rest(10);
    assertThat(all(scene.analysed(), PourStarted.class)).hasSize(1);
    assertThat(all(scene.analysed(), PourEnded.class)).hasSize(1);
  }

  /** When the hold is over, only the newest weights tell that the water comes again. */
  @ParameterizedTest
  @ValueSource(doubles = {0.8, 0.9, 0.95})
  void pause_of_nearly_a_second_does_not_split(double pause) {
    for (long seed = 1; seed <= 8; seed++) {
      Scene scene = new Scene().rate(20).seed(seed).rest(5).pour(20, 5, 0.05).rest(pause);
      scene.pour(20, 5, 0.05).rest(10);
      assertThat(all(scene.analysed(), PourEnded.class)).as("seed %d", seed).hasSize(1);
    }
  }

  @Test
  void knock_is_no_pour() {
    Scene scene = new Scene().rest(5).push(1, 25, 0.4).rest(10);
    Analysis analysis = scene.analysed();
    assertThat(all(analysis, PourStarted.class)).isEmpty();
    assertThat(all(analysis, Disturbed.class))
        .extracting(Disturbed::kind)
        .containsExactly(Disturbance.Kind.BUMP);
  }

  @Test
  void knock_in_a_pour_changes_nothing() {
    Scene scene = new Scene().rest(5).push(4, 30, 0.4).pour(60, 6).rest(10);
    finds(scene, scene.analysed(), 1);
  }

  @Test
  void leaning_hand_is_no_pour() {
    Scene scene = new Scene().rest(5).push(1, 150, 2.5).rest(10).pour(50, 5).rest(8);
    finds(scene, scene.analysed(), 1);
  }

  /** It rises like water and comes to rest, which the newest weights tell. */
  @ParameterizedTest
  @CsvSource({"3, 0.7", "4.5, 0.9", "6, 1.3"})
  void push_that_comes_to_rest_as_it_might_be_believed_is_no_pour(double grams, double seconds) {
    for (int seed = 1; seed <= 5; seed++) {
      Scene scene = new Scene().seed(seed).rest(6).pour(40, 5).rest(5).push(0, grams, seconds);
      Analysis analysis = scene.rest(8).analysed();
      assertThat(all(analysis, PourStarted.class)).as("seed %d", seed).hasSize(1);
    }
  }

  @Test
  void what_is_put_down_before_the_pour_is_no_pour() {
    Scene scene = new Scene().rest(4).put(250).rest(5).put(18).rest(6).pour(50, 5).rest(8);
    finds(scene, scene.analysed(), 1);
  }

  @Test
  void object_put_down_and_taken_away_between_pours_carries_no_water() {
    Scene scene =
        new Scene()
            .rest(4)
            .pour(50, 5)
            .rest(8)
            .put(14)
            .rest(9)
            .put(-14)
            .rest(6)
            .pour(40, 5)
            .rest(8);
    finds(scene, scene.analysed(), 1);
  }

  @Test
  void tare_between_pours_is_a_tare() {
    Scene scene = new Scene().rest(4).pour(50, 5).tare(5).rest(12).pour(40, 5).rest(8);
    Analysis analysis = scene.analysed();
    finds(scene, analysis, 1);
    List<Tared> tares = all(analysis, Tared.class);
    assertThat(tares).hasSize(1);
    assertThat(tares.get(0).taken().grams()).isCloseTo(50, within(0.5));
  }

  @Test
  void tare_in_a_pour_loses_no_water() {
    Scene scene = new Scene().rest(4).tare(5).pour(60, 5).rest(8);
    Analysis analysis = scene.analysed();
    finds(scene, analysis, 3);
    assertThat(all(analysis, Tared.class)).hasSize(1);
  }

  @Test
  void lift_is_a_lift_and_nothing_pours_after_it() {
    Scene scene = new Scene().rest(4).pour(50, 5).rest(20).put(-180).rest(8).pour(30, 5).rest(5);
    Analysis analysis = scene.analysed();
    assertThat(all(analysis, PourStarted.class)).hasSize(1);
    List<DripperLifted> lifts = all(analysis, DripperLifted.class);
    assertThat(lifts).hasSize(1);
    assertThat(lifts.get(0).removed().grams()).isCloseTo(180, within(0.3));
  }

  @Test
  void vessel_lifted_and_put_back_is_no_lift() {
    Scene scene =
        new Scene()
            .rest(4)
            .pour(50, 5)
            .rest(9)
            .put(-300)
            .rest(2)
            .put(300)
            .rest(6)
            .pour(40, 5)
            .rest(8);
    Analysis analysis = scene.analysed();
    finds(scene, analysis, 1);
    assertThat(all(analysis, DripperLifted.class)).isEmpty();
  }

  @Test
  void pour_across_missing_readings_keeps_its_water() {
    Scene scene = new Scene().rest(4).loseReadings(3, 3).pour(60, 5).rest(10);
    Analysis analysis = scene.analysed();
    finds(scene, analysis, 1);
    assertThat(all(analysis, ReadingsMissed.class)).hasSize(1);
  }

  @Test
  void pour_that_began_while_readings_were_missing_is_found() {
    Scene scene = new Scene().rest(6).loseReadings(-1, 3).pour(60, 5).rest(10);
    Analysis analysis = scene.analysed();
    assertThat(all(analysis, PourStarted.class)).hasSize(1);
    assertThat(all(analysis, PourEnded.class)).hasSize(1);
    assertThat(all(analysis, PourEnded.class).get(0).poured().grams()).isCloseTo(60, within(1.0));
  }

  /** A second without readings, again and again, is no gap yet; time goes on in it. */
  @ParameterizedTest
  @ValueSource(doubles = {0.3, 0.6, 0.9, 1.1})
  void readings_lost_now_and_then_disturb_nothing(double seconds) {
    for (long seed = 1; seed <= 5; seed++) {
      Scene scene = new Scene().seed(seed);
      for (double at = 1.3; at < 50; at += 2.3 + 0.4 * seed) {
        scene.loseReadings(at, seconds);
      }
      scene.rest(5).pour(45, 5).rest(15).pour(60, 6).rest(18);
      Analysis analysis = scene.analysed();
      assertThat(all(analysis, Disturbed.class)).as("seed %d", seed).isEmpty();
      assertThat(analysis.findings().pours()).as("seed %d", seed).hasSize(2);
      for (int i = 0; i < 2; i++) {
        Findings.Pour pour = analysis.findings().pours().get(i);
        Scene.Water truth = scene.pours().get(i);
        assertThat(pour.poured().grams()).isCloseTo(truth.grams(), within(0.2));
        assertThat(pour.start().seconds()).isCloseTo(truth.start(), within(0.5));
        assertThat(pour.end().seconds()).isCloseTo(truth.end(), within(0.5));
      }
    }
  }

  @Test
  void batches_of_a_radio_link_are_pours_too() {
    Scene scene = new Scene().batches(4).rest(6).pour(50, 5).rest(10).pour(50, 5).rest(10);
    finds(scene, scene.analysed(), 1);
  }

  @Test
  void nothing_said_ever_changes_when_more_arrives() {
    Scene scene =
        new Scene()
            .rest(4)
            .push(3, 30, 0.5)
            .pour(40, 5)
            .rest(8)
            .tare(3)
            .pour(50, 5)
            .rest(15)
            .put(-200)
            .rest(8);
    Curve whole = scene.curve();
    List<PourEvent> said =
        Analysis.of(pourwright.rig.Rig.WHOLE, DetectorSettings.standard(), List.of(whole))
            .announced();
    for (int cut = 1; cut < whole.size(); cut += 7) {
      Curve part = new Curve(whole.place());
      for (int i = 0; i < cut; i++) {
        part.add(whole.atNanos(i), whole.nanograms(i));
      }
      long end = whole.atNanos(cut - 1);
      List<PourEvent> partly =
          Analysis.of(pourwright.rig.Rig.WHOLE, DetectorSettings.standard(), List.of(part))
              .announced();
      assertThat(partly)
          .isEqualTo(said.stream().filter(event -> event.knownAt().nanos() <= end).toList());
    }
  }

  @Test
  void constant_on_all_masses_changes_no_time() {
    Scene scene = new Scene().rest(4).pour(40, 5).rest(10).pour(50, 5).rest(15);
    List<PourEvent> said = scene.analysed().announced();
    assertThat(scene.offset(512).analysed().announced()).isEqualTo(said);
  }

  @Test
  void landing_is_where_the_pour_comes_to_rest() {
    Scene scene = new Scene().rest(4).pour(40, 5).rest(10);
    Curve curve = scene.curve();
    Detector detector =
        new Detector(pourwright.rig.Rig.WHOLE, DetectorSettings.standard(), event -> {});
    for (int i = 0; curve.atNanos(i) < 11_900_000_000L; i++) {
      detector.weigh(
          curve.place(),
          curve.atNanos(i),
          curve.nanograms(i),
          pourwright.reading.Stability.UNSTATED);
    }
    Optional<Outlook.Landing> landing = detector.outlook().landing();
    assertThat(landing).isPresent();
    assertThat(landing.orElseThrow().inThisPour().grams()).isCloseTo(40, within(2.0));
  }
}
