package pourwright.roving;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import pourwright.detect.Analysis;
import pourwright.detect.Curve;
import pourwright.detect.DetectorSettings;
import pourwright.detect.Findings;
import pourwright.reading.Reading;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.simulate.RovingSimulation;
import pourwright.simulate.Truth;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

class RovingScaleTest {

  private record Followed(Map<Integer, Curve> curves, List<Sighting.Stands> stands) {}

  private static Followed follow(List<Reading> heard, List<Turn> turns) {
    RovingScale scale = new RovingScale(turns);
    Map<Integer, Curve> curves = new TreeMap<>();
    List<Sighting.Stands> stands = new ArrayList<>();
    for (Reading reading : heard) {
      for (Sighting seen : scale.weigh(reading)) {
        if (seen instanceof Sighting.Weighed weighed) {
          curves
              .computeIfAbsent(weighed.lane(), lane -> new Curve(Place.WHOLE))
              .add(weighed.reading().at().nanos(), weighed.reading().mass().nanograms());
        } else if (seen instanceof Sighting.Stands stand) {
          stands.add(stand);
        }
      }
    }
    return new Followed(curves, stands);
  }

  @ParameterizedTest
  @CsvSource({"bench, 3", "slow-scale, 3", "coarse-scale, 3", "board, 2", "bursts, 2", "stage, 3"})
  void every_pour_goes_to_the_rig_it_was_poured_on_and_no_move_is_a_pour_or_a_lift(
      String scenario, int rigs) {
    List<Turn> turns = Stage.turns(rigs);
    // displays that are late or coarse say less of the moment at which the scale is taken away
    double within = List.of("coarse-scale", "slow-scale").contains(scenario) ? 3 : 1.5;
    for (long seed = 1; seed <= (scenario.equals("bench") ? 2 : 1); seed++) {
      RovingSimulation simulation = Stage.simulation(rigs, scenario, seed);
      Followed followed = follow(Stage.heard(simulation), turns);
      String what = scenario + " " + seed;
      assertThat(followed.stands().stream().map(Sighting.Stands::lane).toList())
          .as(what)
          .containsExactlyElementsOf(
              // at the end the dripper comes off, and the scale is still there
              Stream.concat(turns.stream().skip(1), Stream.of(turns.get(turns.size() - 1)))
                  .map(Turn::lane)
                  .toList());
      assertThat(followed.stands()).as(what).allMatch(Sighting.Stands::isExpected);
      for (int rig = 0; rig < rigs; rig++) {
        Findings findings =
            Analysis.of(
                    Rig.WHOLE,
                    DetectorSettings.standard().withDose(Stage.PLAN.dose()),
                    List.of(followed.curves().get(rig + 1)))
                .findings();
        Truth truth = simulation.truth(rig);
        assertThat(findings.pours()).as(what + ": rig " + rig).hasSameSizeAs(truth.pours());
        for (int i = 0; i < truth.pours().size(); i++) {
          assertThat(findings.pours().get(i).poured().grams())
              .as(what + ": rig %d pour %d", rig, i + 1)
              .isCloseTo(truth.pours().get(i).poured().grams(), within(within));
          assertThat(findings.pours().get(i).start().secondsSince(truth.pours().get(i).start()))
              .as(what + ": rig %d pour %d", rig, i + 1)
              .isCloseTo(0, within(1.0));
        }
        boolean isLast = rig == rigs - 1;
        assertThat(findings.lift().isPresent()).as(what + ": lift of rig " + rig).isEqualTo(isLast);
      }
    }
  }

  /** A scale under the first of two rigs of one mass, tared, with 45 g poured. */
  private static RovingScale poured(Hand hand) {
    hand.to(300, 0.2).rest(1).to(0, 0).rest(1).to(45, 9).rest(1.5);
    return hand.scale;
  }

  private static final Mass POUR = Mass.ofGrams(45);

  private static List<Turn> turns(int... lanes) {
    return Arrays.stream(lanes).mapToObj(lane -> new Turn(lane, 1, POUR, POUR)).toList();
  }

  /** Shows weights, ten a second. */
  private static final class Hand {
    final RovingScale scale;
    final List<Sighting> seen = new ArrayList<>();
    private double grams;
    private long tenths;

    Hand(List<Turn> turns) {
      scale = new RovingScale(turns);
    }

    private void show(double shown) {
      grams = shown;
      tenths++;
      seen.addAll(
          scale.weigh(new Reading(SessionTime.ofMillis(100 * tenths), Mass.ofGrams(shown))));
    }

    Hand to(double end, double seconds) {
      double from = grams;
      int steps = Math.max(1, (int) Math.round(seconds * 10));
      for (int i = 1; i <= steps; i++) {
        show(from + (end - from) * i / steps);
      }
      return this;
    }

    Hand rest(double seconds) {
      for (int i = 0; i < Math.round(seconds * 10); i++) {
        show(grams);
      }
      return this;
    }

    /** Off one rig and onto another, which then shows so much. */
    Hand move(double shown) {
      return to(-300, 0.3).rest(0.7).to(-290, 0.1).to(-303, 0.1).rest(0.4).to(shown, 0.3).rest(1);
    }

    Sighting.Stands lastStand() {
      return seen.stream()
          .filter(Sighting.Stands.class::isInstance)
          .map(Sighting.Stands.class::cast)
          .reduce((one, other) -> other)
          .orElseThrow();
    }

    long weighed() {
      return seen.stream().filter(Sighting.Weighed.class::isInstance).count();
    }

    double lastWeighed() {
      return seen.stream()
          .filter(Sighting.Weighed.class::isInstance)
          .map(Sighting.Weighed.class::cast)
          .reduce((one, other) -> other)
          .orElseThrow()
          .reading()
          .mass()
          .grams();
    }
  }

  @Test
  void a_rig_that_comes_back_as_it_went_was_only_lifted() {
    Hand hand = new Hand(turns(1, 2));
    RovingScale scale = poured(hand);
    assertThat(scale.wantedAt()).hasValue(2);
    hand.move(45.4);
    assertThat(hand.lastStand().lane()).isEqualTo(1);
    assertThat(hand.lastWeighed()).isCloseTo(45, within(0.01));
    hand.move(-2);
    assertThat(hand.lastStand().lane()).isEqualTo(2);
    assertThat(hand.lastWeighed()).isCloseTo(0, within(0.01));
    assertThat(scale.lane()).isEqualTo(2);
    assertThat(scale.comesTo(1)).isFalse();
    assertThat(scale.wantedAt()).isEmpty();
  }

  @Test
  void before_its_water_is_poured_a_rig_of_the_same_weight_is_the_same_rig() {
    Hand hand = new Hand(turns(1, 2));
    hand.to(300, 0.2).rest(1).to(0, 0).rest(1.5).move(0.2);
    assertThat(hand.lastStand().lane()).isEqualTo(1);
  }

  @Test
  void a_known_rig_is_known_by_its_weight_even_against_the_timetable() {
    Hand hand = new Hand(turns(1, 2, 3, 1, 2, 3));
    poured(hand);
    hand.move(5).to(50, 9).rest(1.5).move(-8).to(37, 9).rest(1.5);
    hand.move(49.5); // the timetable has rig 1, with 45 g
    assertThat(hand.lastStand().lane()).isEqualTo(1);
    hand.to(94.5, 9).rest(1.5).move(36.5); // and now rig 2, with 50 g
    assertThat(hand.lastStand().lane()).isEqualTo(3);
    assertThat(hand.lastStand().isExpected()).isFalse();
  }

  @Test
  void what_was_poured_while_the_scale_was_away_is_told_and_is_no_pour() {
    Hand hand = new Hand(turns(1, 2, 1));
    poured(hand);
    hand.move(5).to(50, 9).rest(1.5).move(80);
    assertThat(hand.lastStand().lane()).isEqualTo(1);
    assertThat(hand.lastStand().unexplained().grams()).isCloseTo(35, within(0.5));
    assertThat(hand.lastWeighed()).isCloseTo(45, within(0.01));
  }

  @Test
  void a_tare_under_the_new_rig_or_on_the_way_leaves_the_timetable_to_say() {
    Hand hand = new Hand(turns(1, 2, 1));
    poured(hand);
    hand.move(25).to(0, 0).rest(1).to(45, 9).rest(1.5);
    assertThat(hand.lastStand().lane()).isEqualTo(2);
    // the display of rig 1 would be 20 now; zeroed before it comes to rest
    hand.to(-345, 0.3).rest(1).to(18, 0.3).to(0, 0).rest(1);
    assertThat(hand.lastStand().lane()).isEqualTo(1);
    assertThat(hand.lastStand().isExpected()).isTrue();
    assertThat(hand.lastWeighed()).isCloseTo(45, within(0.01));
  }

  @Test
  void water_before_a_tare_counts_with_the_water_after_it() {
    Hand hand = new Hand(turns(1, 2));
    hand.to(300, 0.2).rest(1).to(0, 0).rest(1).to(15, 3).rest(1.5).to(0, 0).rest(1);
    assertThat(hand.lastWeighed()).isCloseTo(0, within(0.01));
    hand.to(7, 2).rest(1);
    assertThat(hand.scale.wantedAt()).isEmpty();
    hand.to(8, 1).rest(1); // 23 of 45 g: more than half of the last pour
    assertThat(hand.scale.wantedAt()).hasValue(2);
    assertThat(hand.scale.isAway()).isFalse();
  }

  @Test
  void vessel_that_is_tared_away_is_no_water() {
    Hand hand = new Hand(turns(1, 2));
    hand.to(300, 0.2).rest(1).to(0, 0).rest(1).to(140, 0.2).rest(1).to(0, 0).rest(1);
    assertThat(hand.scale.wantedAt()).isEmpty();
    hand.to(45, 9).rest(1);
    assertThat(hand.scale.wantedAt()).hasValue(2);
  }

  @Test
  void after_a_tare_the_other_rigs_are_known_by_what_they_would_show_now() {
    Hand hand = new Hand(turns(1, 2, 3, 1));
    poured(hand);
    hand.move(5).to(50, 9).rest(1.5).to(0, 0).rest(1); // rig 1 would show -5 from here on
    assertThat(hand.lastStand().lane()).isEqualTo(2);
    hand.move(-4.5);
    assertThat(hand.lastStand().lane()).isEqualTo(3); // new, and it is its turn
    hand.to(40.5, 9).rest(1.5).move(-4.5);
    assertThat(hand.lastStand().lane()).isEqualTo(1);
    assertThat(hand.lastStand().isExpected()).isTrue();
    assertThat(hand.lastStand().unexplained().grams()).isCloseTo(0.5, within(0.01));
    assertThat(hand.lastWeighed()).isCloseTo(45, within(0.01));
  }

  @Test
  void rig_that_has_a_turn_left_is_come_to_again() {
    Hand hand = new Hand(turns(1, 2, 1, 3));
    assertThat(hand.scale.comesTo(1)).isTrue();
    assertThat(hand.scale.comesTo(2)).isTrue();
    poured(hand);
    hand.move(5).to(50, 9).rest(1.5);
    assertThat(hand.scale.comesTo(2)).isFalse();
    assertThat(hand.scale.comesTo(3)).isTrue();
    hand.move(45.2);
    assertThat(hand.scale.comesTo(1)).isFalse();
  }

  @Test
  void nothing_of_what_was_weighed_is_lost_when_the_display_dips_for_a_moment() {
    Hand hand = new Hand(turns(1, 2));
    poured(hand);
    long before = hand.weighed();
    hand.to(36, 0).to(45.1, 0).rest(0.5);
    assertThat(hand.weighed() - before).isEqualTo(7);
    assertThat(hand.scale.isAway()).isFalse();
    before = hand.weighed();
    hand.to(30, 0).rest(0.9); // a hand that lifts a little stays held back no longer than needed
    assertThat(hand.weighed() - before).isEqualTo(10);
    assertThat(hand.lastWeighed()).isCloseTo(30, within(0.01));
  }

  @Test
  void a_dripper_that_comes_off_leaves_the_scale_where_it_is() {
    Hand hand = new Hand(turns(1, 2));
    poured(hand);
    hand.move(5).to(50, 9).rest(1.5).to(-120, 0.3).rest(4);
    assertThat(hand.lastStand().lane()).isEqualTo(2);
    assertThat(hand.lastWeighed()).isCloseTo(-125, within(0.01));
    assertThat(hand.scale.isAway()).isFalse();
  }

  @Test
  void water_before_the_display_is_at_rest_is_counted_from_the_rig_that_was_there_before() {
    Hand hand = new Hand(turns(1, 2, 1));
    poured(hand);
    hand.move(5).to(50, 9).rest(1.5);
    hand.to(-300, 0.3).rest(1).to(44, 0.3).to(104, 12).rest(1);
    assertThat(hand.lastStand().lane()).isEqualTo(1);
    assertThat(hand.lastWeighed()).isCloseTo(104, within(1.1));
    assertThat(
            hand.seen.stream()
                .filter(Sighting.Weighed.class::isInstance)
                .map(each -> ((Sighting.Weighed) each).reading().mass().grams())
                .filter(grams -> grams > 55 && grams < 95))
        .hasSizeGreaterThan(60);
  }

  @Test
  void a_display_that_cannot_show_what_is_missing_says_that_the_scale_is_gone() {
    Hand hand = new Hand(turns(1, 2));
    RovingScale scale = poured(hand);
    assertThat(scale.outOfRange(SessionTime.ofSeconds(15)))
        .singleElement()
        .isInstanceOf(Sighting.Left.class);
    assertThat(scale.outOfRange(SessionTime.ofSeconds(15))).isEmpty();
    assertThat(new RovingScale(turns(1)).outOfRange(SessionTime.ZERO)).isEmpty();
    hand.tenths += 30;
    hand.to(12, 0).rest(1);
    assertThat(scale.lane()).isEqualTo(2);
  }

  @ParameterizedTest
  @CsvSource({"0, 1, 40, 20", "1, 0, 40, 20", "1, 1, 40, 41", "1, 1, 40, -1"})
  void turn_counts_from_one_and_its_last_pour_is_part_of_its_water(
      int lane, int pours, double water, double last) {
    assertThatThrownBy(() -> new Turn(lane, pours, Mass.ofGrams(water), Mass.ofGrams(last)))
        .isInstanceOf(IllegalArgumentException.class);
  }

  @Test
  void after_the_last_turn_no_rig_is_wanted_and_the_scale_stays_with_it() {
    Hand hand = new Hand(turns(1));
    RovingScale scale = poured(hand);
    assertThat(scale.wantedAt()).isEmpty();
    hand.to(-300, 0.3).rest(0.7);
    assertThat(scale.isAway()).isTrue();
    assertThat(scale.wantedAt()).isEmpty();
    hand.to(-303, 0.1).rest(0.4).to(20, 0.3).rest(1);
    assertThat(hand.lastStand().lane()).isEqualTo(1);
    assertThat(hand.lastStand().isExpected()).isTrue();
  }

  @Test
  void while_the_scale_is_away_the_next_rig_is_wanted_only_once_the_water_is_in() {
    Hand done = new Hand(turns(1, 2));
    poured(done);
    done.to(-300, 0.3).rest(0.7);
    assertThat(done.scale.wantedAt()).hasValue(2);

    Hand early = new Hand(turns(1, 2));
    early.to(300, 0.2).rest(1).to(0, 0).rest(1).to(-300, 0.3).rest(0.7);
    assertThat(early.scale.isAway()).isTrue();
    assertThat(early.scale.wantedAt()).isEmpty();
  }

  @Test
  void water_that_rises_where_no_rig_was_put_down_moves_the_scale_nowhere() {
    Hand hand = new Hand(turns(1, 2));
    poured(hand);
    hand.to(-300, 0.3).rest(0.7).to(-290, 2);
    assertThat(hand.scale.isAway()).isTrue();
    assertThat(hand.scale.lane()).isEqualTo(1);
  }

  @Test
  void scale_that_was_never_zeroed_is_not_gone_when_it_cannot_show_its_load() {
    RovingScale scale = new RovingScale(turns(1, 2));
    assertThat(scale.outOfRange(SessionTime.ofMillis(100))).isEmpty();
    assertThat(scale.isAway()).isFalse();
    assertThat(scale.put(2, SessionTime.ofMillis(200))).isNotEmpty();
    assertThat(scale.lane()).isEqualTo(2);
  }

  @Test
  void brewer_may_say_where_the_scale_goes_while_it_is_on_its_way() {
    Hand hand = new Hand(turns(1, 2));
    poured(hand);
    hand.to(-300, 0.3).rest(0.7);
    List<Sighting> seen = hand.scale.put(2, SessionTime.ofSeconds(60));
    assertThat(seen).hasSize(1).first().isInstanceOf(Sighting.Stands.class);
    assertThat(hand.scale.isAway()).isFalse();
    assertThat(hand.scale.lane()).isEqualTo(2);
  }

  @Test
  void brewer_who_names_a_rig_without_a_turn_is_believed_and_told_that_it_is_early() {
    Hand hand = new Hand(turns(1, 2));
    poured(hand);
    List<Sighting> seen = hand.scale.put(3, SessionTime.ofSeconds(60));
    assertThat(hand.scale.lane()).isEqualTo(3);
    assertThat(seen.get(seen.size() - 1))
        .isInstanceOfSatisfying(
            Sighting.Stands.class, stands -> assertThat(stands.isExpected()).isFalse());
  }

  @Test
  void the_brewer_has_the_last_word() {
    Hand hand = new Hand(turns(1, 2, 3));
    RovingScale scale = poured(hand);
    hand.move(-2).rest(0.5);
    assertThat(scale.put(3, SessionTime.ofMillis(100 * (hand.tenths + 1)))).hasSize(2);
    assertThat(scale.lane()).isEqualTo(3);
    hand.rest(0.5);
    assertThat(hand.lastWeighed()).isCloseTo(0, within(0.01));
    assertThatThrownBy(() -> new RovingScale(List.of()))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Turn(0, 1, POUR, POUR))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Turn(1, 1, POUR, Mass.ofGrams(50)))
        .isInstanceOf(IllegalArgumentException.class);
  }
}
