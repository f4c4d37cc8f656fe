package pourwright.compare;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static pourwright.compare.Runs.clock;
import static pourwright.compare.Runs.drained;
import static pourwright.compare.Runs.gap;
import static pourwright.compare.Runs.planned;
import static pourwright.compare.Runs.pour;
import static pourwright.compare.Runs.routine;
import static pourwright.compare.Runs.words;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import pourwright.plan.Plan;
import pourwright.plan.PlannedPour;
import pourwright.plan.Plans;
import pourwright.plan.Schedule;
import pourwright.plan.Start;
import pourwright.units.SessionTime;

class AlignmentTest {
  // Planned: 42 g at 0–8.4, 66 g at 48–59, 78 g 30 s after (89–102), 78 g at 130–143.
  private final Plan demo = Plans.demo();

  @Test
  void run_on_plan_is_matched_one_to_one_at_no_cost() {
    Alignment alignment =
        Alignment.of(
            routine(
                demo,
                pour(1, 4, 42, 5),
                pour(2, 52, 66, 6),
                pour(3, 93, 78, 6),
                pour(4, 134, 78, 6)));
    assertThat(words(alignment)).isEqualTo("1=1 2=2 3=3 4=4");
    assertThat(alignment.cost()).isEqualTo(0, within(1e-9));
  }

  @Test
  void missed_pour_is_named() {
    assertThat(
            words(
                Alignment.of(
                    routine(demo, pour(1, 0, 42, 5), pour(2, 89, 78, 6), pour(3, 130, 78, 6)))))
        .isEqualTo("1=1 2= 3=2 4=3");
  }

  @Test
  void last_and_first_pour_can_be_missed() {
    assertThat(words(Alignment.of(routine(demo, pour(1, 0, 42, 5), pour(2, 48, 66, 6)))))
        .isEqualTo("1=1 2=2 3= 4=");
    assertThat(
            words(
                Alignment.of(
                    routine(demo, pour(1, 0, 66, 6), pour(2, 41, 78, 6), pour(3, 82, 78, 6)))))
        .isEqualTo("1= 2=1 3=2 4=3");
  }

  @Test
  void extra_pour_is_named() {
    assertThat(
            words(
                Alignment.of(
                    routine(
                        demo,
                        pour(1, 0, 42, 5),
                        pour(2, 25, 15, 5),
                        pour(3, 48, 66, 6),
                        pour(4, 89, 78, 6),
                        pour(5, 130, 78, 6)))))
        .isEqualTo("1=1 =2 2=3 3=4 4=5");
  }

  @Test
  void pour_in_pieces_is_split_and_a_topping_up_is_extra() {
    assertThat(
            words(
                Alignment.of(
                    routine(
                        demo,
                        pour(1, 0, 42, 5),
                        pour(2, 48, 36, 6),
                        pour(3, 60, 30, 6),
                        pour(4, 95, 78, 6),
                        pour(5, 130, 78, 6)))))
        .isEqualTo("1=1 2=2+3 3=4 4=5");
    assertThat(
            words(
                Alignment.of(
                    routine(
                        demo,
                        pour(1, 0, 42, 5),
                        pour(2, 48, 66, 6),
                        pour(3, 63, 9, 6),
                        pour(4, 95, 78, 6),
                        pour(5, 130, 78, 6)))))
        .isEqualTo("1=1 2=2 =3 3=4 4=5");
  }

  @Test
  void pours_that_run_together_are_merged() {
    assertThat(
            words(
                Alignment.of(
                    routine(demo, pour(1, 0, 42, 5), pour(2, 48, 144, 6), pour(3, 130, 78, 6)))))
        .isEqualTo("1=1 2+3=2 4=3");
  }

  @Test
  void one_late_pour_does_not_shift_all_that_follow() {
    List<PlannedPour> pulses = new ArrayList<>();
    List<MadePour> made = new ArrayList<>();
    for (int i = 1; i <= 8; i++) {
      pulses.add(planned(i, 20, clock(20 * (i - 1))));
      made.add(pour(i, 20 * (i - 1) + (i > 1 ? 20 : 0), 20, 6));
    }
    assertThat(words(Alignment.of(routine(Runs.plan(pulses), made.toArray(MadePour[]::new)))))
        .isEqualTo("1=1 2=2 3=3 4=4 5=5 6=6 7=7 8=8");
  }

  @Test
  void nothing_poured_is_everything_missed() {
    Alignment alignment = Alignment.of(routine(demo));
    assertThat(words(alignment)).isEqualTo("1= 2= 3= 4=");
    assertThat(alignment.cost()).isEqualTo(16);
  }

  @Test
  void drained_bed_sets_the_moment_that_counts() {
    Plan plan =
        Runs.plan(planned(1, 42, clock(0)), planned(2, 42, drained(40)), planned(3, 42, gap(30)));
    Routine late =
        new Routine(
            Schedule.of(plan),
            List.of(pour(1, 0, 42, 6), pour(2, 70, 42, 6), pour(3, 107, 42, 6)),
            Map.of(1, SessionTime.ofSeconds(70)));
    assertThat(Alignment.of(late).cost()).isEqualTo(0, within(1e-9));
  }

  @Test
  void unfinished_run_leaves_later_pours_open() {
    assertThat(words(Alignment.soFar(routine(demo)))).isEmpty();
    assertThat(Alignment.soFar(routine(demo)).lastPlanned()).isZero();
    Alignment two = Alignment.soFar(routine(demo, pour(1, 0, 42, 5), pour(2, 48, 66, 6)));
    assertThat(words(two)).isEqualTo("1=1 2=2");
    assertThat(two.lastPlanned()).isEqualTo(2);
    assertThat(words(Alignment.soFar(routine(demo, pour(1, 0, 42, 5), pour(2, 89, 78, 6)))))
        .isEqualTo("1=1 2= 3=2");
  }

  static LongStream seeds() {
    return LongStream.range(0, 150);
  }

  /** Property: no alignment at all is cheaper, tried by listing every one of them. */
  @ParameterizedTest(name = "seed {0}")
  @MethodSource("seeds")
  void costs_no_more_than_any_other_alignment(long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    Routine routine = randomRoutine(random, random.nextInt(1, 6), random.nextInt(0, 6));
    Alignment found = Alignment.of(routine);
    Exhaustive all = new Exhaustive(routine);
    assertThat(found.cost()).isEqualTo(all.least(), within(1e-6));
    assertThat(all.costOf(found.links(), 4)).isEqualTo(found.cost(), within(1e-6));
    assertThat(Alignment.soFar(routine).cost()).isEqualTo(all.leastSoFar(), within(1e-6));
  }

  /** Every small shape, not only those that chance visits. */
  @Test
  void costs_no_more_than_any_other_alignment_in_every_shape_up_to_five_by_five() {
    SplittableRandom random = new SplittableRandom(41);
    for (int planned = 1; planned <= 5; planned++) {
      for (int made = 0; made <= 5; made++) {
        for (int again = 0; again < 5; again++) {
          Routine routine = randomRoutine(random, planned, made);
          assertThat(Alignment.of(routine).cost())
              .isEqualTo(new Exhaustive(routine).least(), within(1e-6));
        }
      }
    }
  }

  /** Property: starting the recording earlier or later changes nothing. */
  @ParameterizedTest(name = "seed {0}")
  @MethodSource("seeds")
  void shifting_the_recording_changes_nothing(long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    Routine routine = randomRoutine(random, random.nextInt(1, 6), random.nextInt(0, 7));
    double shift = random.nextInt(1, 1_000) / 8.0;
    Routine shifted =
        new Routine(
            routine.schedule(),
            routine.made().stream()
                .map(
                    p ->
                        new MadePour(
                            p.index(),
                            p.start().plusSeconds(shift),
                            p.end().plusSeconds(shift),
                            p.poured(),
                            p.meanFlow()))
                .toList(),
            Map.of());
    Routine still = new Routine(routine.schedule(), routine.made(), Map.of());
    assertThat(Alignment.of(shifted)).isEqualTo(Alignment.of(still));
    Comparison a = Comparator.compare(shifted, PouredCurve.NONE);
    Comparison b = Comparator.compare(still, PouredCurve.NONE);
    assertThat(a.deviationIndex()).isEqualTo(b.deviationIndex());
    assertThat(a.shares()).isEqualTo(b.shares());
  }

  static Routine randomRoutine(SplittableRandom random, int plannedCount, int madeCount) {
    List<PlannedPour> pours = new ArrayList<>();
    double clock = 0;
    for (int i = 1; i <= plannedCount; i++) {
      double grams = random.nextInt(8, 30) * 2;
      Start start =
          switch (i == 1 ? 0 : random.nextInt(3)) {
            case 0 -> clock(clock);
            case 1 -> gap(20);
            default -> drained(clock);
          };
      pours.add(planned(i, grams, start));
      clock += grams / 6 + 20;
    }
    List<MadePour> made = new ArrayList<>();
    Map<Integer, SessionTime> drained = new java.util.HashMap<>();
    double at = random.nextInt(0, 10);
    for (int j = 1; j <= madeCount; j++) {
      double grams = random.nextInt(2, 40) * 2 + random.nextDouble();
      made.add(pour(j, at, grams, 5 + random.nextDouble()));
      double pause = random.nextInt(3, 40);
      if (random.nextInt(3) == 0) {
        drained.put(j, made.get(j - 1).end().plusSeconds(pause * random.nextDouble()));
      }
      at = made.get(j - 1).end().seconds() + pause;
    }
    return new Routine(Schedule.of(Runs.plan(pours)), made, drained);
  }
}
