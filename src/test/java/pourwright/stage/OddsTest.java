package pourwright.stage;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static pourwright.stage.Routines.after;
import static pourwright.stage.Routines.at;
import static pourwright.stage.Routines.drained;
import static pourwright.stage.Routines.plan;
import static pourwright.stage.Routines.station;

import java.time.Duration;
import java.util.List;
import org.hipparchus.distribution.continuous.NormalDistribution;
import org.junit.jupiter.api.Test;
import pourwright.statistic.Proportion;
import pourwright.units.Mass;

class OddsTest {
  private static final Spreads NONE = new Spreads(0, 0, 0, 0, 0);
  private static final Routine TWO =
      Routine.of(Routines.drainedBrewers(2, 35), 600)
          .withKettle(new Kettle(Mass.ofGrams(400), Mass.ofGrams(50), 10, 20))
          .withSpeeches(List.of(new Speech("the farm", 60, 200, 10)));

  private static Timetable planned(Routine routine) {
    Outcome outcome =
        StageSolver.solve(routine, Patience.of(Duration.ofSeconds(60), System::nanoTime));
    return ((Outcome.Planned) outcome).timetable();
  }

  @Test
  void a_hand_that_never_scatters_keeps_the_timetable_to_the_second() {
    Timetable table = planned(TWO);
    Odds odds = Odds.of(table, TWO, NONE, 1, 20);
    assertThat(odds.allInside()).isEqualTo(20);
    assertThat(odds.inTime()).isEqualTo(20);
    assertThat(odds.medianEndSeconds()).isEqualTo(table.endSeconds());
    assertThat(odds.slowEndSeconds()).isEqualTo(table.endSeconds());
    assertThat(odds.pours()).hasSize(10).allMatch(pour -> pour.inside() == 20);
  }

  @Test
  void the_same_seed_plays_the_same_routines_and_another_seed_others() {
    Timetable table = planned(TWO);
    Odds first = Odds.of(table, TWO, Spreads.PRACTISED, 7, 500);
    assertThat(Odds.of(table, TWO, Spreads.PRACTISED, 7, 500)).isEqualTo(first);
    assertThat(Odds.of(table, TWO, Spreads.PRACTISED, 8, 500)).isNotEqualTo(first);
  }

  /** One brewer, only the masses scatter: then the chance is that of the normal distribution. */
  @Test
  void the_chance_of_a_mass_is_that_of_the_normal_distribution() {
    Routine one =
        Routine.of(List.of(station("only", plan(2, List.of(at(0), after(30)), 8, 8), 30)), 600);
    Odds odds = Odds.of(planned(one), one, new Spreads(1.5, 0, 0, 0, 0), 3, 20_000);
    NormalDistribution normal = new NormalDistribution();
    double expected = normal.probability(-2 / 1.5, 2 / 1.5);
    for (Odds.PourOdds pour : odds.pours()) {
      assertThat(new Proportion(pour.massInside(), odds.trials()).wilson(0.999).contains(expected))
          .isTrue();
      assertThat(pour.startInside()).isEqualTo(odds.trials());
    }
    assertThat(odds.allGoesWell().wilson(0.999).contains(expected * expected)).isTrue();
  }

  /** Gaps count from the end really made, the clock from the first pour. */
  @Test
  void the_chance_of_a_start_on_the_clock_is_that_of_the_normal_distribution() {
    Routine one =
        Routine.of(
            List.of(station("only", plan(1, List.of(at(0), at(40), after(25)), 8, 8, 8), 30)), 600);
    Odds odds = Odds.of(planned(one), one, new Spreads(0, 0.8, 0, 0, 0), 3, 20_000);
    double expected = new NormalDistribution().probability(-1 / 0.8, 1 / 0.8);
    for (Odds.PourOdds pour : odds.pours().subList(1, 3)) {
      assertThat(new Proportion(pour.startInside(), odds.trials()).wilson(0.999).contains(expected))
          .isTrue();
    }
  }

  @Test
  void a_drained_bed_is_never_poured_early_and_a_late_one_delays_its_neighbours() {
    Routine tight =
        Routine.of(
                List.of(
                    station("left", plan(1, List.of(at(0), drained(43)), 8, 8), 35),
                    station("right", plan(1, List.of(at(0), drained(43)), 8, 8), 35)),
                600)
            .withHands(new HandTimes(0, 0, 0, 2, 2, 0, 0));
    Odds odds = Odds.of(planned(tight), tight, new Spreads(0, 0, 0, 10, 0), 5, 4_000);
    Odds.PourOdds right = odds.pours().get(3);
    assertThat(right.station()).isEqualTo(1);
    assertThat(right.startInside()).isLessThan(odds.pours().get(2).startInside());
    assertThat(odds.pours()).allMatch(pour -> pour.massInside() == 4_000);
  }

  @Test
  void a_limit_that_half_of_the_routines_miss_is_missed_by_half() {
    Timetable table = planned(TWO);
    Odds calm = Odds.of(table, TWO, Spreads.PRACTISED, 11, 1_000);
    Routine tight = TWO.withLimit(calm.medianEndSeconds(), 0);
    Odds odds = Odds.of(table, tight, Spreads.PRACTISED, 11, 1_000);
    assertThat(odds.endsInTime().share()).isBetween(0.4, 0.75);
    assertThat(odds.slowEndSeconds()).isGreaterThanOrEqualTo(odds.medianEndSeconds());
  }

  @Test
  void a_margin_is_chosen_when_it_lets_more_pours_land() {
    Routine busy = Routine.of(Routines.drainedBrewers(2, 35), 600);
    List<Sturdy.Candidate> candidates =
        Sturdy.listBestFirst(
            busy, Spreads.PRACTISED, 7, 400, Patience.of(Duration.ofSeconds(60), System::nanoTime));
    assertThat(candidates).hasSize(5);
    assertThat(candidates.get(0).odds().allInside())
        .isEqualTo(candidates.stream().mapToInt(one -> one.odds().allInside()).max().orElseThrow());
    Sturdy.Candidate shortest =
        candidates.stream().filter(one -> one.marginSeconds() == 0).findFirst().orElseThrow();
    assertThat(candidates.get(0).odds().allInside())
        .isGreaterThanOrEqualTo(shortest.odds().allInside());
  }

  @Test
  void nothing_is_played_without_a_trial_and_spreads_have_bounds() {
    Timetable table = planned(Routine.of(Routines.drainedBrewers(1, 35), 600));
    assertThatThrownBy(
            () -> Odds.of(table, Routine.of(Routines.drainedBrewers(1, 35), 600), NONE, 1, 0))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("at least one");
    assertThatThrownBy(() -> new Spreads(-1, 0, 0, 0, 0))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Spreads(0, 0, 0, 101, 0))
        .isInstanceOf(IllegalArgumentException.class);
  }
}
