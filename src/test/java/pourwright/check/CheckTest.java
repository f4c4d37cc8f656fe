package pourwright.check;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import pourwright.check.Notice.Kind;
import pourwright.metrology.WeightClass;
import pourwright.simulate.Flaws;
import pourwright.simulate.ScaleTraits;
import pourwright.simulate.TestScenario;

/** Whole checks on simulated scales, with everything that goes wrong. */
class CheckTest {
  private static final Kit KIT = SimulatedCheck.kit(WeightClass.M1, 50, 100, 200);
  private static final Programme USUAL = Programme.of(KIT, Thoroughness.USUAL);

  /** Which step of the usual programme this is, from 1: the empty scale, six pairs, then loads. */
  private static final int SECOND_PLACING = 4;

  private static final int FIRST_REMOVAL = 3;
  private static final int LOAD_100 = 15;
  private static final int HOLD = 29;

  private static SimulatedCheck check() {
    return new SimulatedCheck(ScaleTraits.GOOD, Flaws.NONE, USUAL, 5);
  }

  private static void assertWhole(SimulatedCheck done) {
    Measured measured = done.check().measured();
    assertThat(measured.isWhole()).as("%s", done.said()).isTrue();
    assertThat(measured.taken()).extracting(Taken::index).isSorted().doesNotHaveDuplicates();
    Appraisal found = Appraisal.of(measured);
    assertThat(found.errors()).hasSize(4);
    assertThat(found.errors())
        .allSatisfy(error -> assertThat(error.error().value()).isCloseTo(0, within(0.12)));
    assertThat(found.repeatability().orElseThrow().placings()).isEqualTo(6);
    assertThat(found.corners()).hasSize(4);
  }

  static Stream<TestScenario> scales() {
    return TestScenario.list().stream();
  }

  @ParameterizedTest
  @MethodSource("scales")
  void a_careful_hand_gets_through_a_check_of_any_scale_in_minutes(TestScenario scenario) {
    SimulatedCheck done = new SimulatedCheck(scenario.traits(), scenario.flaws(), USUAL, 11).run();
    assertThat(done.check().isDone()).isTrue();
    assertThat(done.check().view().stage()).isEqualTo(Stage.DONE);
    assertThat(done.said(Kind.WRONG)).isEmpty();
    assertThat(done.said(Kind.LOST)).isEmpty();
    assertThat(done.scale().now()).isLessThan(7 * 60);
  }

  @Test
  void nothing_is_complained_of_when_nothing_is_wrong() {
    SimulatedCheck done = check().run();
    assertThat(done.check().measured().disturbances()).isZero();
    assertThat(done.said())
        .extracting(Notice::kind)
        .containsOnly(Kind.ASK, Kind.COUNT, Kind.TAKEN, Kind.STOP, Kind.DONE);
    assertWhole(done);
  }

  @Test
  void a_swapped_weight_is_named_undone_and_asked_for_again() {
    SimulatedCheck check = check();
    check.run(
        step -> {
          if (step == LOAD_100) {
            check.hand().skip();
            double now = check.scale().now();
            check.scale().move(20, now + 1);
            check.scale().move(-20, now + 9);
          }
        });
    assertThat(check.said(Kind.WRONG))
        .singleElement()
        .extracting(Notice::text)
        .asString()
        .contains("reads 20.0 g", "100.0 g was to come", "Take it off");
    assertWhole(check);
  }

  @Test
  void the_right_weight_put_in_the_place_of_the_wrong_one_is_taken_at_once() {
    SimulatedCheck check = check();
    check.run(
        step -> {
          if (step == LOAD_100) {
            check.hand().skip();
            double now = check.scale().now();
            check.scale().move(20, now + 1);
            check.scale().move(80, now + 9);
          }
        });
    assertThat(check.said(Kind.WRONG)).hasSize(1);
    assertThat(check.check().measured().taken().get(LOAD_100 - 1).isClean()).isFalse();
    assertWhole(check);
  }

  @Test
  void a_wrong_order_is_noticed_and_put_right() {
    SimulatedCheck check = check();
    check.run(
        step -> {
          if (step == LOAD_100 + 2) { // the 200 g weight is to come off, the 50 g one does
            check.hand().skip();
            double now = check.scale().now();
            check.scale().move(-50, now + 1);
            check.scale().move(50, now + 9);
          }
        });
    assertThat(check.said(Kind.WRONG))
        .singleElement()
        .extracting(Notice::text)
        .asString()
        .contains("50.0 g came off", "200.0 g", "Put it back");
    assertWhole(check);
  }

  @Test
  void a_touch_in_mid_measurement_begins_that_step_again_and_keeps_the_rest() {
    SimulatedCheck check = check();
    check.run(
        step -> {
          if (step == HOLD) {
            check.scale().lean(30, check.scale().now() + 20, 0.6);
          }
        });
    assertThat(check.said(Kind.TOUCHED)).hasSize(1);
    assertThat(check.check().measured().taken().get(HOLD - 1).readings().span()).isGreaterThan(59);
    assertWhole(check);
    Appraisal found = Appraisal.of(check.check().measured());
    assertThat(found.creep().orElseThrow().covers(0)).isTrue();
  }

  @Test
  void a_touch_while_the_brewer_is_to_do_something_is_no_placing() {
    SimulatedCheck check = check();
    check.run(
        step -> {
          if (step == SECOND_PLACING) {
            check.hand().skip();
            check.scale().lean(15, check.scale().now() + 0.5, 0.4);
          }
        });
    assertThat(check.said(Kind.TOUCHED)).hasSize(1);
    assertWhole(check);
  }

  @Test
  void a_shaking_table_is_said_and_waited_out() {
    SimulatedCheck check = check();
    check.run(
        step -> {
          if (step == FIRST_REMOVAL) {
            check.scale().shake(1.5, check.scale().now() + 3.2, 20);
          }
        });
    assertThat(check.said(Kind.UNSTEADY)).isNotEmpty();
    assertThat(check.said(Kind.UNSTEADY).get(0).text()).contains("table", "again");
    assertWhole(check);
  }

  @Test
  void a_table_that_shakes_in_the_very_first_wait_is_not_taken_for_noise() {
    SimulatedCheck check = check();
    check.scale().shake(2, 5, 4);
    check.run();
    assertThat(check.check().measured().disturbances()).isPositive();
    assertWhole(check);
    assertThat(Appraisal.of(check.check().measured()).display().noise().value()).isLessThan(0.1);
  }

  @Test
  void a_scale_that_switches_off_with_a_weight_on_costs_that_part_only() {
    SimulatedCheck check = check();
    check.run(
        step -> {
          if (step == LOAD_100 + 1 && check.said(Kind.LOST).isEmpty()) {
            check.hand().skip();
            double now = check.scale().now();
            check.scale().cut(now + 1, 6);
            // asked to take everything off
            check.scale().move(-150, now + 16);
          }
        });
    assertThat(check.said(Kind.LOST)).hasSize(1);
    assertThat(check.said(Kind.BACK))
        .singleElement()
        .extracting(Notice::text)
        .asString()
        .contains("Take everything off");
    assertThat(check.check().measured().losses()).isOne();
    assertWhole(check);
  }

  @Test
  void a_scale_that_switches_off_empty_goes_on_with_its_new_zero() {
    SimulatedCheck check = check();
    check.run(
        step -> {
          if (step == SECOND_PLACING) {
            check.hand().skip();
            check.scale().cut(check.scale().now() + 0.5, 4);
          }
        });
    assertThat(check.said(Kind.LOST)).hasSize(1);
    assertThat(check.said(Kind.BACK)).hasSize(1);
    assertWhole(check);
  }

  @Test
  void what_was_asked_may_be_done_while_the_scale_is_gone() {
    Check check = new Check(USUAL);
    check.begin();
    Readings readings = new Readings(check);
    readings.hold(0, 14);
    assertThat(check.onLost(readings.now(), "the cable is out"))
        .singleElement()
        .satisfies(notice -> assertThat(notice.text()).contains("the cable is out", "kept"));
    assertThat(check.onLost(readings.now(), "still out")).isEmpty();
    assertThat(check.view().stage()).isEqualTo(Stage.BLIND);
    assertThat(check.view().words()).contains("the cable is out");
    readings.skip(5);
    readings.hold(200, 4);
    assertThat(check.measured().taken()).hasSize(2);
    assertThat(check.measured().taken().get(1).isClean()).isFalse();
    assertThat(check.ask()).isInstanceOf(Ask.TakeOff.class);
  }

  @Test
  void a_fault_stays_a_fault_when_the_link_drops_meanwhile() {
    Check check = new Check(USUAL);
    check.begin();
    Readings readings = new Readings(check);
    readings.hold(0, 14);
    readings.hold(30, 4);
    assertThat(check.view().stage()).isEqualTo(Stage.UNDOING);
    assertThat(check.view().words()).contains("30.0 g");
    check.onLost(readings.now(), "gone");
    readings.skip(4);
    readings.hold(30, 4);
    assertThat(check.view().stage()).isEqualTo(Stage.UNDOING);
    readings.hold(50, 4);
    assertThat(readings.last().text()).contains("still 50.0 g too much");
    readings.hold(0, 4);
    assertThat(check.view().stage()).isEqualTo(Stage.WAITING);
  }

  @Test
  void a_scale_that_is_far_off_is_believed_the_second_time() {
    Check check = new Check(USUAL);
    check.begin();
    Readings readings = new Readings(check);
    readings.hold(0, 14);
    readings.hold(180, 4);
    assertThat(readings.last().kind()).isEqualTo(Kind.WRONG);
    readings.hold(0, 4);
    readings.hold(180, 4);
    assertThat(readings.said())
        .anyMatch(one -> one.kind() == Kind.TAKEN && one.text().contains("own error"));
    assertThat(check.measured().taken()).hasSize(2);
    assertThat(check.measured().taken().get(1).change()).isCloseTo(180, within(0.05));
  }

  @Test
  void an_object_of_unknown_mass_must_weigh_something_and_then_the_same() {
    Kit kit = new Kit(List.of(), TestLoad.unknown("the tin"));
    Check check = new Check(Programme.of(kit, Thoroughness.QUICK));
    check.begin();
    Readings readings = new Readings(check);
    readings.hold(0, 12);
    readings.hold(3, 4);
    assertThat(readings.last().text()).contains("only 3.0 g", "too light");
    readings.hold(0, 4);
    readings.hold(150, 4);
    readings.hold(0, 4);
    readings.hold(120, 4);
    assertThat(readings.last().text()).contains("reads 120.0 g", "150.0 g was to come");
    readings.hold(0, 4);
    readings.hold(150, 4);
    assertThat(check.measured().taken()).hasSize(4);
  }

  @Test
  void something_added_in_a_wait_is_to_be_taken_off() {
    Check check = new Check(USUAL);
    check.begin();
    Readings readings = new Readings(check);
    readings.hold(0, 14);
    readings.hold(200, 4);
    readings.hold(250, 4);
    assertThat(readings.last().text()).contains("50.0 g was put on", "to come off", "Take it off");
    readings.hold(200, 4);
    readings.hold(0, 4);
    readings.hold(-20, 4);
    assertThat(readings.last().text()).contains("came off, but", "was to go on", "Put it back");
  }
}
