package pourwright.compare;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static pourwright.compare.Runs.at;
import static pourwright.compare.Runs.clock;
import static pourwright.compare.Runs.drained;
import static pourwright.compare.Runs.gap;
import static pourwright.compare.Runs.planned;
import static pourwright.compare.Runs.pour;
import static pourwright.compare.Runs.routine;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import pourwright.compare.Comparison.JudgedPour;
import pourwright.compare.Comparison.Kind;
import pourwright.compare.Comparison.Placing;
import pourwright.detect.Basis;
import pourwright.detect.Findings;
import pourwright.plan.Plan;
import pourwright.plan.Plans;
import pourwright.rig.Rig;
import pourwright.units.Flow;
import pourwright.units.Mass;

class ComparatorTest {
  private final Plan demo = Plans.demo();

  @Test
  void run_on_plan_is_inside_everywhere_with_index_zero() {
    Comparison comparison =
        compare(
            demo, pour(1, 4, 42, 5), pour(2, 52, 66, 6), pour(3, 93, 78, 6), pour(4, 134, 78, 6));
    assertThat(comparison.pours())
        .extracting(JudgedPour::verdict)
        .containsExactly(Verdict.INSIDE, Verdict.INSIDE, Verdict.INSIDE, Verdict.INSIDE);
    assertThat(comparison.pours()).allSatisfy(line -> assertThat(line.reasons()).isEmpty());
    assertThat(comparison.deviationIndex()).isZero();
    assertThat(comparison.shares()).isEmpty();
  }

  @Test
  void errors_are_signed_and_named_in_plain_words() {
    Comparison comparison =
        compare(
            demo,
            pour(1, 4, 44.5, 5),
            pour(2, 55.5, 63, 7.5),
            pour(3, 93.9, 78, 4.5),
            pour(4, 130, 78, 6));
    assertThat(comparison.pours())
        .extracting(line -> line.verdict().word() + ": " + String.join(", ", line.reasons()))
        .containsExactly(
            "outside: 2.5 g too much",
            "outside: 3.0 g too little, 3.5 s too late, 1.5 g/s too fast",
            "outside: 1.5 g/s too slow",
            "outside: 4.0 s too early");
    JudgedPour second = comparison.pours().get(1);
    assertThat(second.planned()).hasValue(2);
    assertThat(second.made()).containsExactly(2);
    assertThat(second.massError()).isEqualTo(Mass.ofGrams(-3));
    Placing placing = second.placing().orElseThrow();
    assertThat(placing.startError()).isEqualTo(Duration.ofMillis(3_500));
    assertThat(placing.lengthError()).isEqualTo(Duration.ofMillis(8_400 - 11_000));
    assertThat(placing.flowError()).isEqualTo(Flow.ofGramsPerSecond(1.5));
  }

  @Test
  void limits_themselves_are_inside() {
    Comparison comparison =
        compare(
            demo, pour(1, 0, 44, 6), pour(2, 50, 64, 5), pour(3, 90.8, 80, 7), pour(4, 132, 76, 6));
    assertThat(comparison.pours())
        .allSatisfy(line -> assertThat(line.verdict()).isEqualTo(Verdict.INSIDE));
  }

  @Test
  void index_is_the_root_mean_square_of_errors_in_tolerances() {
    Plan plan = Runs.plan(planned(1, 60, clock(0)), planned(2, 60, clock(40)));
    Comparison comparison = compare(plan, pour(1, 0, 61, 6.5), pour(2, 43, 56, 6));
    // mass 1/2, flow 0.5/1; mass −4/2, start 3/2
    double squares = 0.25 + 0.25 + 4 + 2.25;
    assertThat(comparison.deviationIndex()).isEqualTo(Math.sqrt(squares / 6), within(1e-9));
    assertThat(comparison.shares()).hasSize(6);
    assertThat(comparison.shares().get(3))
        .satisfies(
            share -> {
              assertThat(share.line()).isEqualTo(1);
              assertThat(share.kind()).isEqualTo(Kind.MASS);
              assertThat(share.part()).isEqualTo(4 / squares, within(1e-9));
            });
  }

  @Test
  void missed_and_extra_pours_count_with_all_their_water() {
    Plan plan = Runs.plan(planned(1, 60, clock(0)), planned(2, 60, clock(40)));
    Comparison missed = compare(plan, pour(1, 0, 60, 6));
    assertThat(missed.pours().get(1))
        .isEqualTo(
            new JudgedPour(
                java.util.OptionalInt.of(2),
                List.of(),
                Verdict.MISSED,
                Mass.ofGrams(-60),
                Optional.empty(),
                List.of("60.0 g not poured")));
    assertThat(missed.deviationIndex()).isEqualTo(Math.sqrt(900 / 6.0), within(1e-9));

    Comparison extra = compare(plan, pour(1, 0, 60, 6), pour(2, 22, 12, 6), pour(3, 40, 60, 6));
    assertThat(extra.pours().get(1))
        .isEqualTo(
            new JudgedPour(
                java.util.OptionalInt.empty(),
                List.of(2),
                Verdict.EXTRA,
                Mass.ofGrams(12),
                Optional.empty(),
                List.of("12.0 g that were not planned")));
    assertThat(extra.deviationIndex()).isEqualTo(Math.sqrt(36 / 6.0), within(1e-9));
    assertThat(extra.shares()).filteredOn(share -> share.part() > 0).hasSize(1);
  }

  @Test
  void unfinished_run_is_judged_by_the_pours_it_has_reached() {
    Plan plan =
        Runs.plan(planned(1, 60, clock(0)), planned(2, 60, clock(40)), planned(3, 60, clock(80)));
    Comparison two =
        Comparator.compareSoFar(
            routine(plan, pour(1, 0, 60, 6), pour(2, 42, 60, 6)), PouredCurve.NONE);
    assertThat(two.pours()).hasSize(2);
    assertThat(two.deviationIndex()).isEqualTo(Math.sqrt(1 / 6.0), within(1e-9));
    Comparison none = Comparator.compareSoFar(routine(plan), PouredCurve.NONE);
    assertThat(none.pours()).isEmpty();
    assertThat(none.deviationIndex()).isZero();
  }

  @Test
  void gap_counts_from_the_real_end_of_the_pour_before() {
    Plan plan = Runs.plan(planned(1, 60, clock(0)), planned(2, 60, gap(30)));
    assertThat(startErrors(compare(plan, pour(1, 0, 60, 5), pour(2, 43, 60, 6))))
        .containsExactly(0.0, 1.0);
  }

  @Test
  void after_a_missed_pour_a_gap_falls_back_to_the_clock() {
    Plan plan =
        Runs.plan(planned(1, 60, clock(0)), planned(2, 60, clock(40)), planned(3, 30, gap(30)));
    Comparison comparison = compare(plan, pour(1, 0, 60, 6), pour(2, 81, 30, 6));
    assertThat(comparison.pours()).extracting(JudgedPour::verdict).contains(Verdict.MISSED);
    assertThat(startErrors(comparison)).containsExactly(0.0, 1.0);
  }

  @Test
  void extra_pour_between_does_not_move_the_gap() {
    Plan plan = Runs.plan(planned(1, 60, clock(0)), planned(2, 60, gap(30)));
    Comparison comparison =
        compare(plan, pour(1, 0, 60, 5), pour(2, 20, 12, 6), pour(3, 43, 60, 6));
    assertThat(startErrors(comparison)).containsExactly(0.0, 1.0);
  }

  @Test
  void drained_moment_counts_where_it_is_known_and_the_clock_where_it_is_only_bounded() {
    Plan plan = Runs.plan(planned(1, 60, clock(0)), planned(2, 60, drained(40)));
    for (Basis basis : Basis.values()) {
      Findings findings =
          findings(
              List.of(pour(1, 0, 60, 6), pour(2, 46, 60, 6)),
              new Findings.Drawdown(1, at(10), at(45), basis));
      assertThat(startErrors(Comparator.compare(plan, findings, PouredCurve.NONE)))
          .containsExactly(0.0, basis == Basis.BOUNDED ? 6.0 : 1.0);
    }
  }

  @Test
  void split_pour_is_judged_as_a_whole_with_its_flow_while_water_ran() {
    Plan plan = Runs.plan(planned(1, 60, clock(0)), planned(2, 60, clock(40)));
    Comparison comparison =
        compare(plan, pour(1, 0, 60, 6), pour(2, 41, 30, 6), pour(3, 50, 33, 6));
    JudgedPour split = comparison.pours().get(1);
    assertThat(split.verdict()).isEqualTo(Verdict.SPLIT);
    assertThat(split.made()).containsExactly(2, 3);
    assertThat(split.massError()).isEqualTo(Mass.ofGrams(3));
    assertThat(split.reasons()).containsExactly("poured in 2 pieces", "3.0 g too much");
    Placing placing = split.placing().orElseThrow();
    assertThat(placing.startError()).isEqualTo(Duration.ofSeconds(1));
    assertThat(placing.flowError().gramsPerSecond()).isEqualTo(0, within(1e-6));
    assertThat(placing.lengthError()).isEqualTo(Duration.ofMillis(14_500 - 10_000));
  }

  @Test
  void merged_pours_share_their_water_in_proportion() {
    Plan plan =
        Runs.plan(planned(1, 40, clock(0)), planned(2, 80, clock(20)), planned(3, 30, clock(60)));
    Comparison comparison = compare(plan, pour(1, 0, 123, 6), pour(2, 60, 30, 6));
    assertThat(comparison.pours()).hasSize(3);
    JudgedPour first = comparison.pours().get(0);
    JudgedPour second = comparison.pours().get(1);
    assertThat(List.of(first.verdict(), second.verdict())).containsOnly(Verdict.MERGED);
    assertThat(List.of(first.made(), second.made())).containsOnly(List.of(1));
    assertThat(first.massError().grams()).isEqualTo(1, within(1e-6));
    assertThat(second.massError().grams()).isEqualTo(2, within(1e-6));
    assertThat(first.reasons()).containsExactly("pours 1 to 2 ran together");
    assertThat(second.reasons()).containsExactly("pours 1 to 2 ran together", "13.2 s too early");
  }

  @Test
  void departure_is_signed_and_timed() {
    Plan plan = Runs.plan(planned(1, 60, clock(0)), planned(2, 60, clock(40)));
    Comparison late = compare(plan, pour(1, 0, 60, 6), pour(2, 42, 60, 6));
    Comparison.Departure departure = late.pours().get(1).placing().orElseThrow().departure();
    assertThat(departure.by()).isEqualTo(Mass.ofGrams(-12));
    assertThat(departure.at()).isBetween(at(42), at(50));
    Comparison early = compare(plan, pour(1, 0, 60, 6), pour(2, 39, 60, 6));
    assertThat(early.pours().get(1).placing().orElseThrow().departure().by())
        .isEqualTo(Mass.ofGrams(6));
  }

  @Test
  void curve_shows_a_departure_that_ends_hide_and_how_steady_the_flow_was() {
    Plan plan = Runs.plan(planned(1, 60, clock(0)));
    // 3 g/s for 5 s, 9 g/s for 5 s: right mass, right mean flow.
    PouredCurve uneven = curve(0, 0, 5, 15, 10, 60);
    Placing placing =
        Comparator.compare(routine(plan, pour(1, 0, 60, 6)), uneven)
            .pours()
            .get(0)
            .placing()
            .orElseThrow();
    assertThat(placing.departure()).isEqualTo(new Comparison.Departure(Mass.ofGrams(-15), at(5)));
    // eight seconds inside the edges: four at 3 g/s, four at 9 g/s
    assertThat(placing.unsteadiness().orElseThrow())
        .isEqualTo(Math.sqrt(8 * 9 / 7.0) / 6, within(1e-9));

    // The first and the last second belong to the hand's start and stop.
    PouredCurve even = curve(0, 0, 1, 2, 9, 50, 10, 60);
    assertThat(
            Comparator.compare(routine(plan, pour(1, 0, 60, 6)), even)
                .pours()
                .get(0)
                .placing()
                .orElseThrow()
                .unsteadiness()
                .orElseThrow())
        .isEqualTo(0, within(1e-9));
  }

  @Test
  void piece_without_samples_shows_no_steadiness() {
    Plan plan = Runs.plan(planned(1, 60, clock(0)));
    long[] at = {at(0).nanos(), at(10).nanos()};
    long[] mass = {0, Mass.ofGrams(60).nanograms()};
    assertThat(
            Comparator.compare(routine(plan, pour(1, 0, 60, 6)), PouredCurve.of(at, mass))
                .pours()
                .get(0)
                .placing()
                .orElseThrow()
                .unsteadiness())
        .isEmpty();
  }

  @Test
  void short_pours_and_runs_without_a_curve_have_no_steadiness() {
    Plan plan = Runs.plan(planned(1, 24, clock(0)));
    assertThat(
            Comparator.compare(routine(plan, pour(1, 0, 24, 6)), curve(0, 0, 4, 24))
                .pours()
                .get(0)
                .placing()
                .orElseThrow()
                .unsteadiness())
        .isEmpty();
    assertThat(
            Comparator.compare(routine(plan, pour(1, 0, 24, 6)), PouredCurve.NONE)
                .pours()
                .get(0)
                .placing()
                .orElseThrow()
                .unsteadiness())
        .isEmpty();
    assertThat(
            Comparator.compare(routine(plan, pour(1, 0, 60, 6)), curve(0, 5, 20, 5))
                .pours()
                .get(0)
                .placing()
                .orElseThrow()
                .unsteadiness())
        .isEmpty();
  }

  @Test
  void pour_without_length_is_judged_without_dividing_by_it() {
    Plan plan = Runs.plan(planned(1, 24, clock(0)));
    MadePour drop = new MadePour(1, at(3), at(3), Mass.ofGrams(4), Flow.ZERO);
    assertThat(compare(plan, drop).pours().get(0).massError()).isEqualTo(Mass.ofGrams(-20));
    MadePour more = new MadePour(2, at(3), at(3), Mass.ofGrams(18), Flow.ZERO);
    JudgedPour split = compare(plan, drop, more).pours().get(0);
    assertThat(split.verdict()).isEqualTo(Verdict.SPLIT);
    assertThat(split.placing().orElseThrow().flowError()).isEqualTo(Flow.ofGramsPerSecond(-6));
  }

  static LongStream seeds() {
    return LongStream.range(0, 60);
  }

  /** Property: turning all errors round turns their signs round and leaves the index. */
  @ParameterizedTest(name = "seed {0}")
  @MethodSource("seeds")
  void opposite_errors_have_the_same_index(long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    Plan plan =
        Runs.plan(planned(1, 60, clock(0)), planned(2, 50, clock(40)), planned(3, 70, clock(90)));
    List<MadePour> above = new ArrayList<>();
    List<MadePour> below = new ArrayList<>();
    for (int i = 1; i <= 3; i++) {
      double grams = plan.pours().get(i - 1).add().grams();
      double clock = i == 1 ? 0 : i == 2 ? 40 : 90;
      double mass = random.nextDouble() * 6;
      double late = i == 1 ? 0 : random.nextDouble() * 6;
      double fast = random.nextDouble() * 2;
      above.add(made(i, clock + late, grams + mass, 6 + fast));
      below.add(made(i, clock - late, grams - mass, 6 - fast));
    }
    Comparison up = compare(plan, above.toArray(MadePour[]::new));
    Comparison down = compare(plan, below.toArray(MadePour[]::new));
    assertThat(up.deviationIndex()).isEqualTo(down.deviationIndex(), within(1e-6));
    for (int i = 0; i < 3; i++) {
      assertThat(up.pours().get(i).massError())
          .isEqualTo(down.pours().get(i).massError().negated());
      assertThat(up.pours().get(i).verdict()).isEqualTo(down.pours().get(i).verdict());
    }
  }

  /** Property: shares are parts of one whole. */
  @ParameterizedTest(name = "seed {0}")
  @MethodSource("seeds")
  void shares_sum_to_one_and_every_planned_pour_has_one_line(long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    Routine routine =
        AlignmentTest.randomRoutine(random, random.nextInt(1, 7), random.nextInt(0, 8));
    Comparison comparison = Comparator.compare(routine, PouredCurve.NONE);
    assertThat(comparison.shares().stream().mapToDouble(Comparison.Share::part).sum())
        .isEqualTo(1, within(1e-9));
    assertThat(
            comparison.pours().stream()
                .filter(line -> line.planned().isPresent())
                .map(line -> line.planned().getAsInt()))
        .containsExactlyElementsOf(
            routine.schedule().slots().stream().map(slot -> slot.pour().index()).toList());
    assertThat(comparison.pours().stream().flatMap(line -> line.made().stream()).distinct())
        .containsExactlyElementsOf(routine.made().stream().map(MadePour::index).toList());
  }

  private static MadePour made(int index, double start, double grams, double flow) {
    return new MadePour(
        index, at(start), at(start + 9), Mass.ofGrams(grams), Flow.ofGramsPerSecond(flow));
  }

  private static Comparison compare(Plan plan, MadePour... made) {
    return Comparator.compare(routine(plan, made), PouredCurve.NONE);
  }

  private static List<Double> startErrors(Comparison comparison) {
    return comparison.pours().stream()
        .flatMap(line -> line.placing().stream())
        .map(placing -> placing.startError().toMillis() / 1e3)
        .toList();
  }

  /** Samples ten times a second on the lines between the corners. */
  private static PouredCurve curve(double... timesAndGrams) {
    List<Long> at = new ArrayList<>();
    List<Long> mass = new ArrayList<>();
    for (int i = 2; i < timesAndGrams.length; i += 2) {
      double span = timesAndGrams[i] - timesAndGrams[i - 2];
      long steps = Math.round(10 * span);
      for (long k = i == 2 ? 0 : 1; k <= steps; k++) {
        double rise = timesAndGrams[i + 1] - timesAndGrams[i - 1];
        at.add(at(timesAndGrams[i - 2] + span * k / steps).nanos());
        mass.add(Mass.ofGrams(timesAndGrams[i - 1] + rise * k / steps).nanograms());
      }
    }
    return PouredCurve.of(
        at.stream().mapToLong(Long::longValue).toArray(),
        mass.stream().mapToLong(Long::longValue).toArray());
  }

  private static Findings findings(List<MadePour> made, Findings.Drawdown... drawdowns) {
    return new Findings(
        Rig.WHOLE,
        made.stream()
            .map(
                p ->
                    new Findings.Pour(
                        p.index(),
                        p.start(),
                        p.end(),
                        p.poured(),
                        p.meanFlow(),
                        Optional.empty(),
                        Optional.empty(),
                        false))
            .toList(),
        List.of(drawdowns),
        Optional.empty(),
        List.of(),
        List.of(),
        List.of());
  }
}
