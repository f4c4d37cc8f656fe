package pourwright.review;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static pourwright.review.Cost.Cause.MASS;
import static pourwright.review.Cost.Cause.START;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.OptionalInt;
import java.util.Random;
import org.junit.jupiter.api.Test;
import pourwright.coach.Feedback;
import pourwright.compare.Comparison.Kind;
import pourwright.review.Rehearsals.Off;
import pourwright.units.Mass;

class PlanReviewTest {
  private static final Off ON = Off.NOT;

  private static Run run(long id, Off... offs) {
    return Rehearsals.run(id, Feedback.FULL, offs);
  }

  private static PlanReview review(List<Run> runs) {
    List<PlanReview> reviews = PlanReview.listOf(runs);
    assertThat(reviews).hasSize(1);
    return reviews.get(0);
  }

  @Test
  void a_habit_is_told_with_the_correction_and_its_evidence() {
    List<Run> runs = new ArrayList<>();
    double[] late = {1.7, 2.3, 1.8, 2.2, 2.0, 2.1};
    for (int i = 0; i < late.length; i++) {
      runs.add(run(i + 1, ON, new Off(0.4, 0.2, 0), new Off(-0.3, late[i], 0.1)));
    }
    PlanReview review = review(runs);
    Habit start = review.pours().get(2).findHabit(Kind.START).orElseThrow();
    assertThat(start.errors().mean().orElseThrow()).isCloseTo(12.1 / 6, within(1e-6));
    assertThat(start.within().orElseThrow().successes()).isEqualTo(3);
    assertThat(start.biasShare()).isGreaterThan(0.95);
    assertThat(review.costs().get(0).cause()).isEqualTo(Cost.Cause.START);
    assertThat(review.costs().get(0).pour()).isEqualTo(OptionalInt.of(3));
    Lesson lesson = review.lesson().orElseThrow();
    assertThat(lesson.sentence())
        .isEqualTo(
            "Work on the start of pour 3: you are 2.0 s late on average, so aim to start 2.0 s"
                + " sooner.");
    assertThat(lesson.evidence())
        .contains("of all deviation in 6 runs", "on average +2.0 s (95 %: +1.8 to +2.3)")
        .contains("within ±2.0 s in 3 of 6")
        .doesNotContain("hint");
  }

  /** Errors of 2 and 1 tolerances in equally many pours: their squares are as 4 to 1. */
  @Test
  void what_costs_more_counts_by_its_square() {
    PlanReview review =
        review(List.of(run(1, ON, new Off(4, 0, 0), ON), run(2, ON, ON, new Off(0, 2, 0))));
    assertThat(review.costs()).extracting(Cost::cause).containsExactly(MASS, START);
    assertThat(review.costs().get(0).part()).isCloseTo(0.8, within(1e-9));
    assertThat(review.costs()).extracting(Cost::runs).containsExactly(1, 1);
    assertThat(review.lesson().orElseThrow().evidence())
        .startsWith("80 % of all deviation in 2 runs");
  }

  @Test
  void an_average_of_nothing_has_no_sign() {
    PlanReview review =
        review(List.of(run(1, ON, new Off(3, 0, 0), ON), run(2, ON, new Off(-3, 0, 0), ON)));
    assertThat(review.lesson().orElseThrow().evidence())
        .contains("; on average 0.0 g", ", scatter 4.2 g");
  }

  @Test
  void scatter_is_told_as_scatter() {
    List<Run> runs = new ArrayList<>();
    double[] off = {3, -3, 2.8, -2.9, 3.1, -3.0};
    for (int i = 0; i < off.length; i++) {
      runs.add(run(i + 1, ON, new Off(off[i], 0, 0), ON));
    }
    PlanReview review = review(runs);
    assertThat(review.lesson().orElseThrow().sentence())
        .isEqualTo(
            "Work on the water of pour 2: it scatters by 3.3 g from run to run, so practise doing"
                + " it alike.");
    assertThat(review.costs()).singleElement().extracting(Cost::part).isEqualTo(1.0);
  }

  @Test
  void every_direction_has_its_words() {
    assertThat(sentence(new Off(3, 0, 0))).contains("3.0 g over", "stop 3.0 g sooner");
    assertThat(sentence(new Off(-3, 0, 0))).contains("3.0 g short", "stop 3.0 g later");
    assertThat(sentence(new Off(0, -3, 0))).contains("3.0 s early", "start 3.0 s later");
    assertThat(sentence(new Off(0, 0, 2))).contains("2.0 g/s too fast", "thinner stream");
    assertThat(sentence(new Off(0, 0, -2))).contains("2.0 g/s too slow", "fuller stream");
  }

  private static String sentence(Off off) {
    return review(List.of(run(1, ON, off, ON), run(2, ON, off, ON)))
        .lesson()
        .orElseThrow()
        .sentence();
  }

  @Test
  void few_runs_are_called_a_hint() {
    Lesson lesson = review(List.of(run(1, ON, new Off(3, 0, 0), ON))).lesson().orElseThrow();
    assertThat(lesson.evidence()).contains("in one run", "hint at most").doesNotContain("scatter");
  }

  @Test
  void a_missed_pour_and_an_extra_one_are_lessons_of_their_own() {
    PlanReview missed = review(List.of(run(1, ON, ON), run(2, ON, ON), run(3, ON, ON, ON)));
    assertThat(missed.lesson().orElseThrow().sentence())
        .isEqualTo("Do not leave out pour 3: it was missed in 2 of 3 runs.");
    assertThat(missed.pours().get(2).missed()).isEqualTo(2);
    assertThat(missed.pours().get(2).inside().successes()).isEqualTo(1);
    PlanReview extra = review(List.of(run(1, ON, ON, ON, ON), run(2, ON, ON, ON)));
    assertThat(extra.lesson().orElseThrow().sentence())
        .isEqualTo("Leave out the water the plan does not ask for: it came in 1 of 2 runs.");
    assertThat(extra.runs().get(0).isClean()).isFalse();
  }

  @Test
  void runs_to_the_drop_teach_nothing() {
    PlanReview review = review(List.of(run(1, ON, ON, ON), run(2, ON, ON, ON)));
    assertThat(review.lesson()).isEmpty();
    assertThat(review.costs()).isEmpty();
    assertThat(review.pours().get(0).findHabit(Kind.START)).isEmpty();
    assertThat(review.pours().get(1).findHabit(Kind.START).orElseThrow().capability()).isEmpty();
    assertThat(review.pours().get(1).findHabit(Kind.START).orElseThrow().biasShare()).isZero();
  }

  @Test
  void one_run_gone_wrong_does_not_outweigh_the_others() {
    List<Run> runs = new ArrayList<>();
    double[] late = {1.7, 2.3, 1.8, 2.2, 2.0, 2.1};
    for (int i = 0; i < late.length; i++) {
      runs.add(run(i + 1, ON, ON, new Off(0, late[i], 0)));
    }
    runs.add(run(7, ON, new Off(30, 0, 0), ON));
    PlanReview review = review(runs);
    assertThat(review.lesson().orElseThrow().sentence()).contains("start of pour 3");
    assertThat(review.lesson().orElseThrow().evidence())
        .contains("left out as apart from the rest: run 7");
  }

  @Test
  void costs_sum_to_one_and_agree_with_the_index() {
    for (long seed = 1; seed <= 20; seed++) {
      PlanReview review = review(Rehearsals.season(seed, 12));
      assertThat(review.costs().stream().mapToDouble(Cost::part).sum()).isCloseTo(1, within(1e-9));
      assertThat(review.costs()).isSortedAccordingTo((a, b) -> Double.compare(b.part(), a.part()));
    }
  }

  @Test
  void plans_and_simulated_runs_are_kept_apart_and_the_last_rehearsed_comes_first() {
    List<Off> on = List.of(ON, ON, ON);
    Run old =
        Rehearsals.run(1, Rehearsals.plan("A"), Feedback.FULL, false, Run.Cup.NONE, Map.of(), on);
    Run simulated =
        Rehearsals.run(2, Rehearsals.plan("A"), Feedback.FULL, true, Run.Cup.NONE, Map.of(), on);
    Run other =
        Rehearsals.run(3, Rehearsals.plan("B"), Feedback.FULL, false, Run.Cup.NONE, Map.of(), on);
    List<PlanReview> reviews = PlanReview.listOf(List.of(other, old, simulated));
    assertThat(reviews).extracting(review -> review.plan().title()).containsExactly("B", "A", "A");
    assertThat(reviews).extracting(PlanReview::isSimulated).containsExactly(false, true, false);
    assertThat(reviews).allSatisfy(review -> assertThat(review.runs()).hasSize(1));
  }

  /** Errors of 1 and 3: the mean is 2, the mean square 5. */
  @Test
  void a_habit_is_the_mean_within_the_mean_square() {
    Habit water =
        review(List.of(run(1, ON, new Off(1, 0, 0), ON), run(2, ON, new Off(3, 0, 0), ON)))
            .pours()
            .get(1)
            .findHabit(Kind.MASS)
            .orElseThrow();
    assertThat(water.biasShare()).isCloseTo(0.8, within(1e-9));
  }

  @Test
  void a_pour_that_spreads_has_a_capability() {
    List<Run> runs =
        List.of(
            run(1, ON, new Off(1, 0, 0), ON),
            run(2, ON, new Off(-1, 0, 0), ON),
            run(3, ON, new Off(0, 0, 0), ON));
    Habit water = review(runs).pours().get(1).findHabit(Kind.MASS).orElseThrow();
    // s = 1 g, tolerance ±2 g: Cp = 4 / 6
    assertThat(water.capability().orElseThrow().cp()).isCloseTo(4.0 / 6, within(1e-9));
    assertThat(water.within().orElseThrow().successes()).isEqualTo(3);
    assertThat(water.biasShare()).isZero();
  }

  @Test
  void a_shift_of_a_second_is_found_again_in_two_hundred_seeded_seasons() {
    int covered = 0;
    for (long seed = 0; seed < 200; seed++) {
      Random random = new Random(seed);
      List<Run> runs = new ArrayList<>();
      for (int i = 0; i < 10; i++) {
        runs.add(run(i + 1, ON, new Off(0, 1 + 0.7 * random.nextGaussian(), 0), ON));
      }
      if (review(runs)
          .pours()
          .get(1)
          .findHabit(Kind.START)
          .orElseThrow()
          .errors()
          .meanInterval()
          .orElseThrow()
          .contains(1)) {
        covered++;
      }
    }
    // 95 % of 200 are 190; four standard deviations of the count are 12
    assertThat(covered).isBetween(178, 200);
  }

  @Test
  void guesses_are_held_against_what_was_poured() {
    Run blind =
        Rehearsals.run(
            1,
            Rehearsals.plan("A"),
            Feedback.BLIND,
            false,
            Run.Cup.NONE,
            Map.of(2, Mass.ofGrams(79), 9, Mass.ofGrams(1)),
            List.of(ON, new Off(1.5, 0, 0), ON));
    Series guesses = review(List.of(blind)).feedback().guesses();
    assertThat(guesses.points()).hasSize(1);
    assertThat(guesses.mean().orElseThrow()).isCloseTo(79 - 81.5, within(1e-9));
  }

  @Test
  void what_stays_without_guidance_is_blind_less_guided() {
    List<Run> runs = new ArrayList<>();
    for (int i = 0; i < 6; i++) {
      runs.add(Rehearsals.run(2L * i, Feedback.FULL, ON, new Off(0.5 + 0.1 * i, 0, 0), ON));
      runs.add(Rehearsals.run(2L * i + 1, Feedback.BLIND, ON, new Off(3 + 0.1 * i, 0, 0), ON));
    }
    FeedbackReview feedback = review(runs).feedback();
    assertThat(feedback.kinds())
        .extracting(FeedbackReview.Kind::feedback)
        .containsExactly(Feedback.FULL, Feedback.BLIND);
    assertThat(feedback.retention().size()).isEqualTo(6);
    assertThat(feedback.retention().meanInterval().orElseThrow().low()).isPositive();
    assertThat(review(runs.subList(0, 2)).feedback().retention().meanInterval()).isEmpty();
  }

  @Test
  void practice_is_not_taken_for_guidance() {
    // guided runs come first and get better all the time; blind ones fit in where they stand
    List<Run> runs = new ArrayList<>();
    for (int i = 0; i < 12; i++) {
      Feedback feedback = i % 3 == 1 || i < 2 ? Feedback.BLIND : Feedback.FULL;
      runs.add(Rehearsals.run(i, feedback, ON, new Off(4 - 0.3 * i, 0, 0), ON));
    }
    Series retention = review(runs).feedback().retention();
    assertThat(retention.points().stream().map(Series.Point::run))
        .containsExactly(0L, 1L, 4L, 7L, 10L);
    assertThat(retention.points().get(2).value()).isCloseTo(0, within(1e-6));
    assertThat(review(List.of(runs.get(0), runs.get(1))).feedback().retention().isEmpty()).isTrue();
  }
}
