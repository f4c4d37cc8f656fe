package pourwright.stage;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.SplittableRandom;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import pourwright.plan.Plan;
import pourwright.plan.Start;
import pourwright.units.Mass;

/** Held to trying every second of small routines in which everything is to be done. */
class FirstPoursTest {
  private static final int END_BY = 34;
  private static final int THIRSTY_END_BY = 50;

  static LongStream seeds() {
    return LongStream.range(0, 40);
  }

  private static Patience patience() {
    return Patience.of(Duration.ofSeconds(60), System::nanoTime);
  }

  private static Routine smallRoutine(SplittableRandom random) {
    List<Station> stations = new ArrayList<>();
    boolean areAlike = random.nextBoolean();
    int brewers = random.nextInt(4) == 0 ? 1 : 2;
    long same = random.nextLong();
    for (int i = 0; i < brewers; i++) {
      SplittableRandom own = areAlike ? new SplittableRandom(same) : random;
      Start second = own.nextBoolean() ? Routines.at(own.nextInt(6, 10)) : Routines.drained(8);
      stations.add(
          Routines.station(
              "brewer " + (i + 1),
              Routines.plan(
                  1, List.of(Routines.at(0), second), own.nextInt(1, 4), own.nextInt(1, 4)),
              own.nextInt(3, 8)));
    }
    List<Speech> speeches =
        random.nextInt(3) == 0
            ? List.of(new Speech("hello", 1, random.nextInt(3, 14), random.nextInt(1, 5)))
            : List.of();
    Kettle kettle =
        random.nextInt(4) == 0
            ? new Kettle(Mass.ofGrams(20 + random.nextInt(12)), Mass.ZERO, 2, 3)
            : Kettle.COMMON;
    return new Routine(
        stations,
        new HandTimes(
            random.nextInt(1, 3), random.nextInt(3), random.nextInt(3), 1, 1, 0, random.nextInt(4)),
        kettle,
        speeches,
        80,
        0,
        random.nextBoolean(),
        2,
        0);
  }

  @ParameterizedTest(name = "seed {0}")
  @MethodSource("seeds")
  void the_soonest_last_lift_is_the_soonest_of_all_and_no_bound_lies_above_it(long seed) {
    Routine routine = smallRoutine(new SplittableRandom(seed));
    Work work = Work.of(routine);
    OptionalInt soonest = Exhaustive.soonestLastLift(routine, END_BY);
    Optional<FirstPours.Answer> found =
        FirstPours.soonest(work, StageSolver.rulesOf(work), END_BY, patience(), patience());
    if (!work.canBePunctual()) {
      assertThat(soonest).isEmpty();
      return;
    }
    assertThat(found.map(FirstPours.Answer::end).orElse(0)).isEqualTo(soonest.orElse(0));
    found.ifPresent(answer -> assertThat(answer.leastEnd()).isEqualTo(answer.end()));
    if (soonest.isPresent()) {
      int preparing = routine.hands().rinse() + routine.hands().dose();
      int[] earliest = new int[work.chains.size()];
      Arrays.fill(earliest, preparing);
      int[] toEnd = new int[work.chains.size()];
      Arrays.setAll(toEnd, station -> work.punctualOffset(work.lift(station)) + 1);
      assertThat(HandsBound.lastLift(work, earliest, toEnd))
          .isLessThanOrEqualTo(soonest.getAsInt());
    }
  }

  /** Three brewers who need nothing but water, and a kettle for one to three of them. */
  private static Routine thirstyRoutine(SplittableRandom random) {
    List<Station> stations = new ArrayList<>();
    boolean areAlike = random.nextBoolean();
    int brewers = 3;
    long same = random.nextLong();
    int most = 0;
    for (int i = 0; i < brewers; i++) {
      SplittableRandom own = areAlike ? new SplittableRandom(same) : random;
      Plan plan =
          Routines.plan(
              1,
              List.of(Routines.at(0), Routines.at(own.nextInt(5, 9))),
              own.nextInt(1, 3),
              own.nextInt(1, 3));
      stations.add(Routines.station("brewer " + (i + 1), plan, own.nextInt(1, 4)));
      most = Math.max(most, (int) plan.water().grams());
    }
    return new Routine(
        stations,
        new HandTimes(0, 0, 0, 1, 1, 0, random.nextInt(3)),
        new Kettle(
            Mass.ofGrams(most * (2 + random.nextInt(4)) / 2.0),
            Mass.ZERO,
            random.nextInt(1, 3),
            random.nextInt(1, 8)),
        List.of(),
        200,
        0,
        random.nextInt(3) > 0,
        0,
        0);
  }

  @ParameterizedTest(name = "seed {0}")
  @MethodSource("seeds")
  void the_kettle_costs_what_it_costs_when_every_second_is_tried(long seed) {
    Routine routine = thirstyRoutine(new SplittableRandom(seed));
    Work work = Work.of(routine);
    OptionalInt soonest = Exhaustive.soonestLastLift(routine, THIRSTY_END_BY);
    Optional<FirstPours.Answer> found =
        FirstPours.soonest(work, StageSolver.rulesOf(work), THIRSTY_END_BY, patience(), patience());
    assertThat(found.map(FirstPours.Answer::end).orElse(0)).isEqualTo(soonest.orElse(0));
    found.ifPresent(answer -> assertThat(answer.leastEnd()).isEqualTo(answer.end()));
  }

  /**
   * By hand: 282 g a brewer and 820 g of which none may be left half way, as no bed leaves the 70 s
   * of a refill. So two brewers have one filling, where by volume alone 3 fillings would do.
   */
  @Test
  void a_kettle_is_filled_as_often_as_whole_brewers_need() {
    List<Station> eight = Routines.drainedBrewers(8, 35);
    assertThat(Work.of(Routine.of(eight, 1_500)).refills).hasSize(3);
    Kettle quick = new Kettle(Mass.ofGrams(900), Mass.ofGrams(80), 10, 20);
    assertThat(Work.of(Routine.of(eight, 1_500).withKettle(quick)).refills).hasSize(2);
    Kettle small = new Kettle(Mass.ofGrams(300), Mass.ofGrams(80), 10, 60);
    assertThat(Work.of(Routine.of(eight, 1_500).withKettle(small)).refills).hasSize(10);
  }

  /** 60, 36, 24 and 30 g from 84 g: in order three fillings, in any order two. */
  @Test
  void in_any_order_brewers_share_fillings_that_fit() {
    List<Station> stations = new ArrayList<>();
    for (int seconds : new int[] {10, 6, 4, 5}) {
      Plan plan = Routines.plan(1, List.of(Routines.at(0)), seconds);
      stations.add(Routines.station("of " + seconds, plan, 5));
    }
    Kettle kettle = new Kettle(Mass.ofGrams(84), Mass.ZERO, 10, 60);
    assertThat(refills(stations, kettle, true)).isEqualTo(2);
    List<Station> mixed =
        List.of(stations.get(0), stations.get(3), stations.get(2), stations.get(1));
    assertThat(refills(mixed, kettle, true)).isEqualTo(2);
    assertThat(refills(mixed, kettle, false)).isEqualTo(1);
  }

  private static int refills(List<Station> stations, Kettle kettle, boolean leftToRight) {
    return Work.of(
            new Routine(stations, HandTimes.COMMON, kettle, List.of(), 600, 0, leftToRight, 20, 0))
        .refills
        .size();
  }

  private static Routine alike(int brewers) {
    return Routine.of(Routines.threePours(brewers), 900)
        .withKettle(new Kettle(Mass.ofGrams(4_000), Mass.ofGrams(80), 10, 60));
  }

  /**
   * By hand: 6 brewers of 48 s of chores and pours, of which the hands come to each four times by a
   * walk of 2 s, the first time without one.
   */
  @Test
  void six_brewers_take_the_hands_at_least_their_work_and_walks() {
    Work work = Work.of(alike(6));
    int[] earliest = new int[6];
    Arrays.fill(earliest, 14);
    int[] toEnd = new int[6];
    Arrays.fill(toEnd, 136);
    assertThat(HandsBound.lastLift(work, earliest, toEnd)).isBetween(6 * 48 + 23 * 2, 350);
  }

  /** Time for a look, but not for a proof. */
  @Test
  void what_is_not_searched_to_the_end_is_not_called_proven() {
    Work work = Work.of(alike(8));
    Patience aLook = Patience.of(Duration.ofSeconds(5), System::nanoTime);
    FirstPours.Answer answer =
        FirstPours.soonest(work, StageSolver.rulesOf(work), 800, aLook, aLook).orElseThrow();
    assertThat(answer.leastEnd()).isGreaterThanOrEqualTo(8 * 48 + 31 * 2).isLessThan(answer.end());
  }
}
