package pourwright.review;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import pourwright.coach.Feedback;
import pourwright.review.Rehearsals.Off;

class DifferenceTest {

  private static List<Run> runs(int firstId, double... late) {
    List<Run> runs = new ArrayList<>();
    for (double seconds : late) {
      runs.add(
          Rehearsals.run(
              firstId + runs.size(), Feedback.FULL, Off.NOT, new Off(0, seconds, 0), Off.NOT));
    }
    return runs;
  }

  @Test
  void two_weeks_that_differ_are_told_apart_where_they_differ() {
    Difference difference =
        Difference.of(runs(1, 2.0, 2.2, 1.9, 2.1), runs(11, 0.2, 0.4, 0.3, 0.1));
    Difference.Line start =
        difference.lines().stream()
            .filter(line -> line.what().equals("pour 2, start"))
            .findFirst()
            .orElseThrow();
    assertThat(start.test().orElseThrow().difference()).isCloseTo(1.8, within(1e-6));
    assertThat(start.isClear()).isTrue();
    assertThat(difference.lines().get(0).what()).isEqualTo("deviation index");
    assertThat(difference.lines().get(0).isClear()).isTrue();
    assertThat(difference.lines()).hasSize(10);
  }

  @Test
  void asking_several_questions_makes_each_answer_more_careful() {
    Difference difference =
        Difference.of(runs(1, 2.0, 2.9, 1.2, 2.4), runs(11, 1.2, 1.4, 0.3, 2.1));
    assertThat(difference.lines())
        .filteredOn(line -> line.test().isPresent())
        .isNotEmpty()
        .allSatisfy(
            line -> assertThat(line.adjustedP()).isGreaterThanOrEqualTo(line.test().get().p()));
  }

  @Test
  void one_run_is_no_group_and_no_spread_is_no_test() {
    assertThat(Difference.of(runs(1, 1.0), runs(11, 0.2, 0.3)).lines())
        .allSatisfy(line -> assertThat(line.test()).isEmpty())
        .noneMatch(Difference.Line::isClear);
    assertThat(Difference.of(runs(1, 1.0, 1.0), runs(11, 0.2, 0.2)).lines().get(0).test())
        .isEmpty();
  }

  @Test
  void nothing_is_held_against_nothing() {
    Difference difference = Difference.of(List.of(), List.of());
    assertThat(difference.lines()).hasSize(1);
    assertThat(difference.lines().get(0).test()).isEmpty();
  }
}
