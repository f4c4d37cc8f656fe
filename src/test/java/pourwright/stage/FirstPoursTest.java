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
import pourwright.plan.Start;
import pourwright.units.Mass;

/** Held to trying every second of small routines in which everything is to be done. */
class FirstPoursTest {
  private static final int END_BY = 34;

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
        FirstPours.soonest(work, StageSolver.rulesOf(work), END_BY, patience());
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
    FirstPours.Answer answer =
        FirstPours.soonest(
                work,
                StageSolver.rulesOf(work),
                800,
                Patience.of(Duration.ofSeconds(5), System::nanoTime))
            .orElseThrow();
    assertThat(answer.leastEnd()).isGreaterThanOrEqualTo(8 * 48 + 31 * 2).isLessThan(answer.end());
  }
}
