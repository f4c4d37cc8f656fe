package pourwright.detect;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import pourwright.detect.Findings.Pour;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.units.Mass;

class HindsightTest {

  private static void isNear(Scene scene, Findings findings, double seconds, double grams) {
    List<Pour> pours = findings.pours();
    assertThat(pours).hasSameSizeAs(scene.pours());
    for (int i = 0; i < pours.size(); i++) {
      Scene.Water truth = scene.pours().get(i);
      assertThat(pours.get(i).start().seconds()).isCloseTo(truth.start(), within(seconds));
      assertThat(pours.get(i).end().seconds()).isCloseTo(truth.end(), within(seconds));
      assertThat(pours.get(i).poured().grams()).isCloseTo(truth.grams(), within(grams));
    }
  }

  @ParameterizedTest
  @ValueSource(longs = {1, 2, 3, 4, 5})
  void edges_and_mass_come_out_within_a_fifth_of_a_second_and_a_tenth_of_a_gram(long seed) {
    Scene scene =
        new Scene().seed(seed).rest(6).pour(40, 5).rest(15).pour(70, 6).rest(12).put(-300).rest(6);
    isNear(scene, scene.analysed().findings(), 0.2, 0.1);
  }

  @Test
  void lag_is_taken_off_where_the_lift_shows_it() {
    Scene scene =
        new Scene().lag(0.6).rest(6).pour(50, 5).rest(15).pour(50, 5).rest(15).put(-300).rest(8);
    isNear(scene, scene.analysed().findings(), 0.25, 0.2);
  }

  @Test
  void lag_is_taken_off_where_it_was_given() {
    Scene scene = new Scene().lag(0.5).rest(6).pour(50, 5).rest(15);
    Findings findings = scene.analysed(DetectorSettings.standard().withLagSeconds(0.5)).findings();
    isNear(scene, findings, 0.2, 0.2);
  }

  @Test
  void evaporation_during_the_pour_is_counted_as_poured() {
    Scene scene = new Scene().evaporation(0.05).rest(10).pour(60, 4).rest(20);
    isNear(scene, scene.analysed().findings(), 0.2, 0.15);
  }

  @Test
  void drip_after_the_pour_is_not_poured() {
    Scene scene = new Scene().noise(0.02).rest(6).pour(40, 5).rest(2).put(0.25).rest(10);
    isNear(scene, scene.analysed().findings(), 0.15, 0.1);
  }

  @Test
  void tare_in_a_pour_takes_no_water_away() {
    Scene scene = new Scene().rest(6).tare(5).pour(60, 5).rest(12);
    isNear(scene, scene.analysed().findings(), 0.2, 0.6);
  }

  /** The finger on the button pushes the rig soon after the water, and then the zero comes. */
  @ParameterizedTest
  @CsvSource({"0.4, 1.5", "0.8, 1.9", "1.7, 2.8"})
  void press_and_tare_soon_after_a_pour_leave_its_water_and_its_end(double press, double tare) {
    Scene scene = new Scene().rest(6).pour(45, 5).rest(12).pour(50, 5);
    scene.push(press, 30, 0.2).tare(tare).rest(14).pour(40, 5).rest(12);
    isNear(scene, scene.analysed().findings(), 0.3, 0.5);
  }

  /** Vessels put down show little of the lag that small changes have. */
  @Test
  void only_the_pours_show_a_long_lag_when_the_scale_hurries_after_the_lift() {
    Scene scene = new Scene().rate(12.5).resolution(0.2).noise(0.02).lag(0.6).hurriesAbove(4, 8);
    scene.rest(6).pour(60, 5).rest(15).pour(60, 5).rest(15).pour(60, 5).rest(15).put(-300).rest(8);
    isNear(scene, scene.analysed().findings(), 0.3, 0.4);
  }

  @Test
  void scale_that_hurries_after_big_steps_is_seen_through_in_the_pours() {
    Scene scene = new Scene().lag(0.6).hurriesAbove(4, 4).noise(0.01).rest(3).put(300);
    scene.rest(9).pour(50, 5).rest(14).pour(60, 5).rest(14).put(-200).rest(8);
    isNear(scene, scene.analysed().findings(), 0.3, 0.3);
  }

  @Test
  void pour_across_a_gap_is_flagged_and_weighed_from_both_sides() {
    Scene scene = new Scene().rest(6).loseReadings(3, 3).pour(60, 5).rest(12);
    Findings findings = scene.analysed().findings();
    isNear(scene, findings, 0.2, 0.2);
    assertThat(findings.pours().get(0).acrossGap()).isTrue();
    assertThat(findings.gaps()).hasSize(1);
  }

  @Test
  void grounds_tipped_in_before_the_first_pour_are_no_pour() {
    Scene scene = new Scene().rest(4).put(250).rest(4).put(300).rest(4);
    for (int lump = 0; lump < 8; lump++) {
      scene.put(2).rest(0.1);
    }
    scene.rest(5).pour(50, 5).rest(10);
    isNear(scene, scene.analysed().findings(), 0.2, 0.2);
  }

  /** Server, dripper and then coffee, all before our eyes. */
  private static Scene putTogether(double lag, double coffeeSeconds) {
    return new Scene()
        .lag(lag)
        .rest(3)
        .put(280)
        .rest(3)
        .put(130)
        .rest(3)
        .trickle(18, coffeeSeconds);
  }

  @ParameterizedTest
  @CsvSource({"0.1, 0.5", "0.1, 1.5", "0.1, 2.5", "0.1, 3.5", "0.6, 0.5", "0.6, 1.5", "0.6, 2.5"})
  void coffee_that_trickles_in_before_the_tare_is_no_pour(double lag, double seconds) {
    Scene scene =
        putTogether(lag, seconds).rest(4).tare(0).rest(4).pour(50, 5).rest(14).pour(60, 6).rest(9);
    Findings findings = scene.analysed().findings();
    isNear(scene, findings, 0.25, 0.3);
    // Once the coffee is in, the first water is told as soon as any other.
    Pour first = findings.pours().get(0);
    assertThat(first.startAnnounced().orElseThrow().seconds())
        .isCloseTo(scene.pours().get(0).start(), within(0.7 + lag));
  }

  @ParameterizedTest
  @ValueSource(doubles = {0.5, 1.5, 2.5})
  void coffee_that_is_weighed_between_two_tares_is_no_pour(double seconds) {
    Scene scene =
        new Scene().rest(3).put(280).rest(3).put(130).rest(3).tare(0).rest(3).trickle(18, seconds);
    scene.rest(4).tare(0).rest(4).pour(50, 5).rest(14).pour(60, 6).rest(9);
    isNear(scene, scene.analysed().findings(), 0.2, 0.2);
  }

  @Test
  void small_first_pour_stays_a_pour_when_a_tare_follows_the_second() {
    Scene scene =
        new Scene().rest(6).pour(20, 6).rest(14).pour(60, 6).rest(6).tare(0).rest(6).pour(50, 6);
    scene.rest(9);
    isNear(scene, scene.analysed().findings(), 0.2, 0.2);
  }

  @Test
  void running_pour_is_listed_without_an_announced_end() {
    Scene scene = new Scene().rest(6).pour(60, 5);
    Pour pour = scene.analysed().findings().pours().get(0);
    assertThat(pour.endAnnounced()).isEmpty();
    assertThat(pour.startAnnounced()).isPresent();
  }

  @ParameterizedTest
  @ValueSource(doubles = {0, 0.1})
  void water_with_which_the_recording_begins_is_a_pour(double rest) {
    Scene scene = new Scene().rest(rest).pour(40, 5).rest(12).pour(60, 6).rest(10);
    isNear(scene, scene.analysed().findings(), 0.4, 1.0);
  }

  @Test
  void lift_and_beverage_follow_from_the_placing_of_the_dripper() {
    Scene scene =
        new Scene()
            .rest(4)
            .put(400)
            .rest(4)
            .put(250)
            .rest(6)
            .pour(120, 6)
            .rest(10)
            .pour(100, 6)
            .rest(30)
            .put(-250 - 40)
            .rest(6);
    Findings.Lift lift = scene.analysed().findings().lift().orElseThrow();
    assertThat(lift.removed().grams()).isCloseTo(290, within(0.1));
    double poured = scene.pours().stream().mapToDouble(Scene.Water::grams).sum();
    assertThat(lift.beverage().orElseThrow().grams()).isCloseTo(poured - 40, within(0.15));
  }

  /**
   * Seen from server, dripper and what was left after the lift; {@code taken} from the beverage.
   */
  private static void leavesBeverage(Scene scene, double kept, double grams) {
    double poured = scene.pours().stream().mapToDouble(Scene.Water::grams).sum();
    assertThat(scene.analysed().findings().lift().orElseThrow().beverage().orElseThrow().grams())
        .isCloseTo(poured - kept, within(grams));
  }

  /** On a scale of five readings a second the last one before the zero is all the push. */
  @Test
  void finger_on_the_button_takes_nothing_from_the_beverage() {
    Scene scene = new Scene().rate(5).noise(0.02).rest(4).put(300).rest(3).put(150).rest(4);
    scene.push(-0.25, 12, 0.25).tare(0).rest(5).pour(120, 6).rest(14).pour(100, 6).rest(20);
    leavesBeverage(scene.put(-150 - 40).rest(6), 40, 0.3);
    assertThat(scene.analysed().announced())
        .filteredOn(PourEvent.Tared.class::isInstance)
        .singleElement()
        .satisfies(
            event ->
                assertThat(((PourEvent.Tared) event).taken().grams()).isCloseTo(450, within(0.5)));
  }

  /** The server is still being weighed when the dripper comes. */
  @Test
  void empty_server_is_known_where_a_slow_scale_had_no_time_to_come_to_rest() {
    Scene scene = new Scene().lag(0.4).noise(0.02).rest(4).put(400).rest(2.2).put(250).rest(8);
    scene.pour(120, 6).rest(14).pour(100, 6).rest(20);
    leavesBeverage(scene.put(-250 - 40).rest(8), 40, 0.5);
  }

  /** Of a small brew the grounds keep more than half. */
  @Test
  void beverage_of_a_small_brew_is_known() {
    Scene scene = new Scene().rest(4).put(400).rest(4).put(250).rest(6).pour(65, 5).rest(25);
    DetectorSettings settings = DetectorSettings.standard().withDose(Mass.ofGrams(22));
    scene.put(-250 - 43).rest(6);
    Findings.Lift lift = scene.analysed(settings).findings().lift().orElseThrow();
    double poured = scene.pours().get(0).grams();
    assertThat(lift.beverage().orElseThrow().grams()).isCloseTo(poured - 43, within(0.2));
  }

  /** Live it is only known that the dripper left somewhere between two weights. */
  @Test
  void lift_just_after_missing_readings_is_put_where_it_was() {
    Scene scene = new Scene().rate(20).rest(5).pour(60, 5).rest(15).loseReadings(0, 4).rest(4.5);
    double lift = scene.now();
    scene.put(-180).rest(8);
    Findings.Lift found = scene.analysed().findings().lift().orElseThrow();
    assertThat(found.time().seconds()).isCloseTo(lift, within(0.1));
    assertThat(found.removed().grams()).isCloseTo(180, within(0.2));
  }

  @Test
  void beverage_follows_from_dripper_and_dose_where_the_placing_was_not_seen() {
    Scene scene = new Scene().rest(6).pour(200, 6).rest(30).put(-250 - 15 - 30).rest(6);
    DetectorSettings settings =
        DetectorSettings.standard().withDripper(Mass.ofGrams(250)).withDose(Mass.ofGrams(15));
    Findings.Lift lift = scene.analysed(settings).findings().lift().orElseThrow();
    double poured = scene.pours().get(0).grams();
    assertThat(lift.beverage().orElseThrow().grams()).isCloseTo(poured - 30, within(0.2));
  }

  @Test
  void beverage_is_unknown_without_any_of_these() {
    Scene scene = new Scene().rest(6).pour(200, 6).rest(30).put(-300).rest(6);
    assertThat(scene.analysed().findings().lift().orElseThrow().beverage()).isEmpty();
  }

  @Test
  void drawdown_is_bounded_by_the_next_pour_and_the_lift() {
    Scene scene = new Scene().rest(6).pour(50, 5).rest(15).pour(50, 5).rest(15).put(-300).rest(6);
    List<Findings.Drawdown> drawdowns = scene.analysed().findings().drawdowns();
    assertThat(drawdowns).extracting(Findings.Drawdown::afterPour).containsExactly(1, 2);
    assertThat(drawdowns).extracting(Findings.Drawdown::basis).containsOnly(Basis.BOUNDED);
  }

  /** Outflow of 3 g/s that breaks off 12 s after the pour. */
  private static Curve outflow(double startSeconds, double drainedSeconds, double length) {
    Curve curve = new Curve(Place.SERVER);
    for (double t = 0; t < length; t += 0.1) {
      double run = Math.max(0, Math.min(t, drainedSeconds) - startSeconds);
      double mass = Math.rint(run * 30) / 10;
      curve.add(Math.round(t * 1e9), Math.round(mass * 1e9));
    }
    return curve;
  }

  @Test
  void drawdown_is_measured_beside_the_server() {
    Scene scene = new Scene().rest(6).pour(60, 5).rest(30);
    double drained = scene.pours().get(0).end() + 9;
    Findings findings =
        Analysis.of(
                Rig.SPLIT,
                DetectorSettings.standard(),
                List.of(scene.curve(), outflow(8, drained, scene.now())))
            .findings();
    assertThat(findings.drawdowns()).hasSize(1);
    Findings.Drawdown drawdown = findings.drawdowns().get(0);
    assertThat(drawdown.basis()).isEqualTo(Basis.MEASURED);
    assertThat(drawdown.end().seconds()).isCloseTo(drained, within(0.4));
  }

  /** Dry grounds let nothing through at first: silence under them is no dry bed. */
  @Test
  void bed_that_has_not_begun_to_run_is_not_called_dry() {
    Scene scene = new Scene().rest(6).pour(60, 5).rest(40);
    double pourEnd = scene.pours().get(0).end();
    double drained = pourEnd + 30;
    Findings findings =
        Analysis.of(
                Rig.SPLIT,
                DetectorSettings.standard().withDose(Mass.ofGrams(18)),
                List.of(scene.curve(), outflow(pourEnd + 6, drained, scene.now())))
            .findings();
    assertThat(findings.drawdowns()).hasSize(1);
    assertThat(findings.drawdowns().get(0).basis()).isEqualTo(Basis.MEASURED);
    assertThat(findings.drawdowns().get(0).end().seconds()).isCloseTo(drained, within(0.4));
  }

  @Test
  void bed_that_never_ran_is_dry_only_where_the_grounds_hold_all_water() {
    Scene scene = new Scene().rest(6).pour(30, 5).rest(20).pour(60, 5).rest(20);
    Curve nothing = outflow(scene.now(), scene.now(), scene.now());
    List<Findings.Drawdown> drawdowns =
        Analysis.of(
                Rig.SPLIT,
                DetectorSettings.standard().withDose(Mass.ofGrams(18)),
                List.of(scene.curve(), nothing))
            .findings()
            .drawdowns();
    assertThat(drawdowns.get(0).basis()).isEqualTo(Basis.MEASURED);
    assertThat(drawdowns.get(0).end().seconds()).isCloseTo(scene.pours().get(0).end(), within(0.3));
    assertThat(drawdowns.stream().skip(1))
        .noneMatch(drawdown -> drawdown.basis() == Basis.MEASURED);
  }

  @Test
  void under_the_server_a_pour_is_inferred_and_its_drawdown_measured() {
    Analysis analysis =
        Analysis.of(Rig.SERVER, DetectorSettings.standard(), List.of(outflow(8, 27, 40)));
    assertThat(analysis.findings().pours()).hasSize(1);
    assertThat(analysis.findings().drawdowns()).hasSize(1);
    assertThat(analysis.findings().drawdowns().get(0).end().seconds()).isCloseTo(27, within(0.5));
    assertThat(analysis.announced()).anyMatch(PourEvent.BedDrained.class::isInstance);
  }

  @Test
  void empty_recording_finds_nothing() {
    Findings findings =
        Analysis.of(Rig.WHOLE, DetectorSettings.standard(), List.of(new Curve(Place.WHOLE)))
            .findings();
    assertThat(findings.pours()).isEmpty();
    assertThat(findings.lift()).isEmpty();
  }

  @Test
  void pour_that_runs_as_the_recording_begins_starts_no_sooner_than_that() {
    Scene scene = new Scene().rate(5).lag(0.5).put(4).rest(3).pour(40, 5).rest(10);
    Curve whole = scene.curve();
    Curve late = new Curve(whole.place());
    for (int i = 16; i < whole.size(); i++) {
      late.add(whole.atNanos(i), whole.nanograms(i));
    }
    Analysis analysis =
        Analysis.of(pourwright.rig.Rig.WHOLE, DetectorSettings.standard(), List.of(late));
    assertThat(analysis.findings().pours()).hasSize(1);
    assertThat(analysis.findings().pours().get(0).start().nanos())
        .isGreaterThanOrEqualTo(late.atNanos(0));
  }
}
