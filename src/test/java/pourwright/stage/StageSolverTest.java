package pourwright.stage;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static pourwright.stage.Routines.after;
import static pourwright.stage.Routines.at;
import static pourwright.stage.Routines.drained;
import static pourwright.stage.Routines.plan;
import static pourwright.stage.Routines.station;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.stream.LongStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import pourwright.plan.Plan;
import pourwright.plan.Start;
import pourwright.stage.Outcome.Impossible;
import pourwright.stage.Outcome.Planned;
import pourwright.stage.Timetable.Slot;
import pourwright.units.Mass;

class StageSolverTest {
  /** For searches that end by themselves. */
  private static Patience patience() {
    return Patience.of(Duration.ofSeconds(60), System::nanoTime);
  }

  static LongStream seeds() {
    return LongStream.range(0, 25);
  }

  /** Small enough to try every second for every job. */
  private static Routine smallRoutine(SplittableRandom random) {
    List<Station> stations = new ArrayList<>();
    int brewers = random.nextInt(1, 3);
    for (int i = 0; i < brewers; i++) {
      Start second =
          switch (random.nextInt(3)) {
            case 0 -> at(random.nextInt(5, 9));
            case 1 -> after(random.nextInt(3, 5));
            default -> drained(8);
          };
      stations.add(
          station(
              "brewer " + (i + 1),
              plan(1, List.of(at(0), second), random.nextInt(1, 3), random.nextInt(1, 3)),
              random.nextInt(3, 6)));
    }
    List<Speech> speeches =
        random.nextInt(3) == 0 ? List.of(new Speech("hello", 2, 6, 2)) : List.of();
    Kettle kettle =
        random.nextInt(3) == 0
            ? new Kettle(Mass.ofGrams(14 + random.nextInt(12)), Mass.ZERO, 1, 2)
            : Kettle.COMMON;
    return new Routine(
        stations,
        new HandTimes(0, 0, random.nextInt(2), 1, 1, 0, random.nextInt(2)),
        kettle,
        speeches,
        brewers == 1 ? 26 : 22 + random.nextInt(6),
        random.nextInt(3),
        random.nextBoolean(),
        2,
        random.nextInt(3) == 0 ? 4 : 0);
  }

  @ParameterizedTest(name = "seed {0}")
  @MethodSource("seeds")
  void the_best_timetable_is_the_best_of_all_and_an_impossible_one_has_none(long seed) {
    Routine routine = smallRoutine(new SplittableRandom(seed));
    Optional<int[]> best = Exhaustive.best(routine);
    Outcome outcome = StageSolver.solve(routine, patience());
    if (best.isEmpty()) {
      assertThat(outcome).isInstanceOf(Impossible.class);
    } else {
      assertThat(outcome).isInstanceOf(Planned.class);
      Planned planned = (Planned) outcome;
      assertThat(planned.isProvenBest()).isTrue();
      assertThat(Stream.of(Wish.values()).mapToInt(planned.timetable()::seconds).toArray())
          .containsExactly(best.get());
    }
  }

  @Test
  void three_brewers_who_wait_for_their_beds_are_planned_with_proof() {
    Routine routine = Routine.of(Routines.drainedBrewers(3, 35), 600);
    Outcome outcome = StageSolver.solve(routine, patience());
    assertThat(outcome).isInstanceOf(Planned.class);
    Planned planned = (Planned) outcome;
    assertThat(planned.isProvenBest()).isTrue();
    assertThat(planned.timetable().endSeconds()).isLessThanOrEqualTo(580);
    assertThat(planned.timetable().lateSeconds()).isZero();
    assertHandsAreNeverInTwoPlaces(planned.timetable(), routine.hands().travel());
  }

  @Test
  void one_scale_is_moved_before_every_pour_of_another_brewer_and_the_hands_have_time_for_it() {
    HandTimes hands = new HandTimes(8, 6, 3, 4, 8, 0, 2, 6);
    Routine own = Routine.of(Routines.drainedBrewers(3, 45), 800);
    Planned each = (Planned) StageSolver.solve(own, patience());
    Routine one = own.withHands(hands);
    Planned moved = (Planned) StageSolver.solve(one, patience());
    assertThat(moved.isProvenBest()).isTrue();
    assertThat(moved.timetable().lateSeconds()).isZero();
    assertThat(moved.timetable().endSeconds())
        .isGreaterThanOrEqualTo(each.timetable().endSeconds());
    assertHandsAreNeverInTwoPlaces(moved.timetable(), 2);
    assertThat(Moves.listTight(moved.timetable(), 6)).isEmpty();
    int scaleAt = 0;
    int moves = 0;
    for (Slot slot : moved.timetable().slots()) {
      if (slot.job().chore() == Chore.MOVE_SCALE) {
        scaleAt = slot.job().station();
        moves++;
        assertThat(slot.job().seconds()).isEqualTo(6);
      } else if (slot.job().chore() == Chore.POUR) {
        assertThat(slot.job().station()).isEqualTo(scaleAt);
      }
    }
    assertThat(moves).isGreaterThanOrEqualTo(2);
    // a routine played with dice moves the scale too
    Odds odds = Odds.of(moved.timetable(), one, Spreads.PRACTISED, 7, 50);
    assertThat(odds.medianEndSeconds()).isGreaterThanOrEqualTo(moved.timetable().endSeconds() - 20);
    // the timetable of brewers with scales of their own leaves no time for it
    assertThat(Moves.listTight(each.timetable(), 6))
        .isNotEmpty()
        .allMatch(tight -> tight.freeSeconds() < 6);
  }

  @Test
  void where_nobody_can_be_punctual_the_scale_is_moved_where_there_is_time() {
    Plan plan = plan(9, List.of(at(0), at(12)), 5, 5);
    Routine routine =
        new Routine(
            List.of(station("left", plan, 20), station("right", plan, 20)),
            new HandTimes(0, 0, 0, 1, 1, 0, 0, 3),
            Kettle.COMMON,
            List.of(new Speech("hello", 5, 14, 4)),
            200,
            0,
            true,
            60,
            0);
    Planned planned = (Planned) StageSolver.solve(routine, patience());
    Timetable table = planned.timetable();
    long moves =
        table.slots().stream().filter(slot -> slot.job().chore() == Chore.MOVE_SCALE).count();
    long changes = moves + Moves.listTight(table, 3).size();
    assertThat(changes).isBetween(1L, 3L);
    assertHandsAreNeverInTwoPlaces(table, 0);
  }

  @Test
  void a_speech_keeps_the_hands_off_everything() {
    Routine routine =
        Routine.of(Routines.drainedBrewers(2, 35), 600)
            .withSpeeches(List.of(new Speech("the farm", 60, 90, 15)));
    Planned planned = (Planned) StageSolver.solve(routine, patience());
    Slot speech =
        planned.timetable().slots().stream()
            .filter(slot -> slot.job().chore() == Chore.SPEAK)
            .findFirst()
            .orElseThrow();
    assertThat(speech.startSeconds()).isBetween(60, 90);
    assertHandsAreNeverInTwoPlaces(planned.timetable(), 0);
  }

  @Test
  void a_small_kettle_is_refilled_and_hot_again_before_the_next_pour() {
    Routine routine =
        Routine.of(Routines.drainedBrewers(2, 35), 600)
            .withKettle(new Kettle(Mass.ofGrams(400), Mass.ofGrams(50), 10, 20));
    Planned planned = (Planned) StageSolver.solve(routine, patience());
    List<Slot> refills =
        planned.timetable().slots().stream()
            .filter(slot -> slot.job().chore() == Chore.REFILL)
            .toList();
    assertThat(refills).hasSize(1);
    Slot refill = refills.get(0);
    assertThat(planned.timetable().slots())
        .filteredOn(slot -> slot.job().chore() == Chore.POUR)
        .allMatch(
            pour ->
                pour.endSeconds() <= refill.startSeconds()
                    || pour.startSeconds() >= refill.endSeconds() + 20);
    int before =
        planned.timetable().slots().stream()
            .filter(slot -> slot.startSeconds() < refill.startSeconds())
            .mapToInt(slot -> slot.job().grams())
            .sum();
    assertThat(before).isBetween(2 * 282 - 350, 350);
  }

  /** Four brewers pour 10 s every 30 s: forty seconds of work in thirty. */
  @Test
  void what_clashes_is_named_and_nothing_that_does_not() {
    List<Station> stations = new ArrayList<>();
    for (int i = 0; i < 4; i++) {
      stations.add(
          station("brewer " + (i + 1), plan(0, List.of(at(0), at(30), at(60)), 10, 10, 10), 20));
    }
    Routine routine =
        Routine.of(stations, 600).withHands(new HandTimes(0, 0, 0, 1, 1, 0, 0)).withLimit(90, 5);
    Outcome outcome = StageSolver.solve(routine, patience());
    assertThat(outcome).isInstanceOf(Impossible.class);
    Impossible impossible = (Impossible) outcome;
    assertThat(impossible.isMinimal()).isTrue();
    assertThat(impossible.clash()).isNotEmpty();
    assertThat(impossible.clash())
        .noneMatch(rule -> rule instanceof Rule.ServedTogether)
        .anyMatch(rule -> rule instanceof Rule.EndInTime);
    Work work = Work.of(routine);
    assertThat(StageModel.free(work, impossible.clash()).any(patience()).timetable()).isEmpty();
    for (Rule rule : impossible.clash()) {
      List<Rule> rest = impossible.clash().stream().filter(other -> other != rule).toList();
      assertThat(StageModel.free(work, rest).any(patience()).timetable())
          .as("without: %s", rule.words())
          .isPresent();
    }
  }

  @Test
  void a_limit_too_short_for_the_beds_clashes_with_nothing_but_itself() {
    Routine routine = Routine.of(Routines.drainedBrewers(1, 35), 600).withLimit(120, 20);
    Impossible impossible = (Impossible) StageSolver.solve(routine, patience());
    assertThat(impossible.clash())
        .extracting(Rule::words)
        .containsExactly("everything is done by 1:40 (limit 2:00, reserve 20 s)");
  }

  @Test
  void rules_are_said_in_plain_words() {
    Routine routine =
        Routine.of(
                List.of(
                    station("left", plan(2, List.of(at(0), at(40)), 8, 8), 30),
                    station("right", plan(2, List.of(at(0), drained(40)), 8, 8), 30)),
                300)
            .withSpeeches(List.of(new Speech("why this farm", 60, 80, 12)))
            .withServedWithin(60)
            .withKettle(new Kettle(Mass.ofGrams(150), Mass.ofGrams(50), 8, 30));
    assertThat(StageSolver.rulesOf(Work.of(routine)))
        .extracting(Rule::words)
        .containsExactly(
            "everything is done by 4:40 (limit 5:00, reserve 20 s)",
            "left: pour 2 begins within 2 s of its planned moment",
            "left: the dripper comes off within 20 s of draining",
            "right: pour 2 begins within 20 s of draining",
            "right: the dripper comes off within 20 s of draining",
            "\"why this farm\" takes 12 s and begins between 1:00 and 1:20",
            "the kettle gives 100 g between refills, each 8 s and 30 s to reheat",
            "brewers are started from left to right",
            "all cups are served within 60 s");
  }

  @Test
  void without_time_to_search_nothing_is_claimed() {
    Outcome outcome =
        StageSolver.solve(
            Routine.of(Routines.drainedBrewers(6, 35), 600),
            Patience.of(Duration.ZERO, System::nanoTime));
    assertThat(outcome).isInstanceOf(Outcome.Undecided.class);
  }

  @Test
  void routines_that_cannot_be_are_refused() {
    List<Station> one = Routines.drainedBrewers(1, 30);
    assertThatThrownBy(() -> Routine.of(List.of(), 600))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("1 to 8 brewers");
    assertThatThrownBy(() -> Routine.of(one, 600).withLimit(10, 10))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> Routine.of(one, 600).withServedWithin(-1))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Kettle(Mass.ofGrams(50), Mass.ofGrams(50), 1, 1))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Kettle(Mass.ofGrams(50), Mass.ZERO, -1, 1))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new HandTimes(-1, 0, 0, 0, 0, 0, 0))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Speech("x", 5, 4, 1)).isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Station("x", one.get(0).plan(), List.of(1)))
        .isInstanceOf(IllegalArgumentException.class);
  }

  private static void assertHandsAreNeverInTwoPlaces(Timetable timetable, int travel) {
    List<Slot> slots = timetable.slots();
    for (int i = 1; i < slots.size(); i++) {
      Slot before = slots.get(i - 1);
      Slot now = slots.get(i);
      int walk = before.job().station() == now.job().station() ? 0 : travel;
      assertThat(now.startSeconds())
          .as("%s then %s", before, now)
          .isGreaterThanOrEqualTo(before.endSeconds() + walk);
    }
  }
}
