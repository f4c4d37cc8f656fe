package pourwright.recipe;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.Duration;
import java.util.List;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import pourwright.plan.Plan;
import pourwright.plan.PlannedPour;
import pourwright.plan.Start;
import pourwright.plan.Tolerance;
import pourwright.rig.Rig;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

class RecipeTest {
  private static final Recipe COMMON = recipe(20, 300, 0.40, 50, 3, 1, byClock(45));

  /** Common practice, no source. */
  @Test
  void the_common_scheme() {
    assertThat(grams(COMMON.toPlan())).containsExactly(50.0, 70.0, 60.0, 60.0, 60.0);
    assertThat(COMMON.ratio()).isEqualTo(15);
    assertThat(Recipe.waterFor(Mass.ofGrams(20), 15)).isEqualTo(Mass.ofGrams(300));
  }

  @Test
  void pours_start_by_the_clock_or_when_drained() {
    assertThat(COMMON.toPlan().pours())
        .extracting(PlannedPour::start)
        .containsExactly(at(0), at(45), at(90), at(135), at(180));
    assertThat(
            recipe(20, 300, 0.4, 50, 1, 1, new Pace.WhenDrained(Duration.ofSeconds(40)))
                .toPlan()
                .pours())
        .extracting(PlannedPour::start)
        .containsExactly(
            at(0),
            new Start.WhenDrained(SessionTime.ofSeconds(40)),
            new Start.WhenDrained(SessionTime.ofSeconds(80)));
  }

  @Test
  void any_recipe_without_problems_sums_to_its_water_in_steps_of_the_scale() {
    SplittableRandom random = new SplittableRandom(11);
    int planned = 0;
    for (int round = 0; round < 2_000; round++) {
      double step = List.of(0.1, 0.5, 1.0, 2.0).get(random.nextInt(4));
      double water = Math.round(random.nextDouble(100, 600) * 10) / 10.0;
      Recipe recipe =
          recipe(
              random.nextDouble(10, 35),
              water,
              random.nextDouble(0.2, 0.7),
              Math.rint(random.nextDouble(5, 60)),
              random.nextInt(1, 7),
              step,
              byClock(60));
      if (!recipe.problems().isEmpty()) {
        continue;
      }
      planned++;
      List<PlannedPour> pours = recipe.toPlan().pours();
      assertThat(pours.stream().map(PlannedPour::add).reduce(Mass.ZERO, Mass::plus))
          .as("round %s", round)
          .isEqualTo(recipe.water());
      List<PlannedPour> closing = pours.subList(pours.size() - recipe.closingPours(), pours.size());
      long least = closing.stream().mapToLong(p -> p.add().nanograms()).min().orElseThrow();
      long most = closing.stream().mapToLong(p -> p.add().nanograms()).max().orElseThrow();
      assertThat(most - least).isLessThanOrEqualTo(2 * recipe.step().nanograms());
      for (PlannedPour pour : closing.subList(0, closing.size() - 1)) {
        assertThat(pour.add().nanograms() % recipe.step().nanograms()).isZero();
      }
    }
    assertThat(planned).isGreaterThan(1_000);
  }

  @Test
  void an_opening_can_be_one_pour_and_a_recipe_can_be_an_opening() {
    assertThat(grams(recipe(15, 240, 0.25, 60, 2, 1, byClock(40)).toPlan()))
        .containsExactly(60.0, 90.0, 90.0);
    assertThat(grams(recipe(15, 240, 1.0, 60, 0, 1, byClock(60)).toPlan()))
        .containsExactly(60.0, 180.0);
  }

  @Test
  void each_problem_is_named_in_plain_words() {
    assertThat(recipe(0, 300, 0.4, 50, 3, 1, byClock(45)).problems())
        .containsExactly("the dose must be more than zero, it is 0 g");
    assertThat(recipe(20, -1, 1.4, 50, 30, 0, byClock(45)).problems())
        .containsExactly(
            "the water must be more than zero, it is -1 g",
            "the step of the scale must be more than zero, it is 0 g",
            "the opening share must lie between 0 and 100 %, it is 140.0 %",
            "0 to 20 closing pours can be planned, not 30");
    assertThat(recipe(20, 300, 0.4, 150, 3, 1, byClock(45)).problems())
        .containsExactly("the first pour of 150 g is more than the opening of 120 g");
    assertThat(recipe(20, 300, 0.4, 50, 0, 1, byClock(45)).problems())
        .containsExactly(
            "without closing pours the opening must be 100 % of the water, it is 40.0 %");
    assertThat(recipe(20, 300, 1.0, 50, 2, 1, byClock(60)).problems())
        .containsExactly("an opening of 100 % leaves no water for 2 closing pours");
    assertThat(recipe(20, 300, 0.4, 0, 3, 1, byClock(45)).problems())
        .containsExactly("the first pour must be more than zero, it is 0 g");
    assertThat(recipe(20, 300, 0.4, 50, 3, 1, byClock(13)).problems())
        .first()
        .asString()
        .startsWith("pour 2 takes 11.7 s and the next starts 13.0 s after its start");
    assertThat(recipe(20, 300, 0.99, 50, 9, 1, byClock(90)).problems())
        .anyMatch(problem -> problem.contains("would be 0 g: make fewer pours"));
    assertThatThrownBy(() -> recipe(0, 300, 0.4, 50, 3, 1, byClock(45)).toPlan())
        .isInstanceOf(IllegalStateException.class)
        .hasMessageContaining("dose");
  }

  @Test
  void no_flow_is_a_problem() {
    Recipe still =
        new Recipe(
            "still",
            Mass.ofGrams(20),
            Mass.ofGrams(300),
            0.4,
            Mass.ofGrams(50),
            3,
            Flow.ZERO,
            byClock(45),
            Mass.ofGrams(1),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            Rig.WHOLE,
            Tolerance.COMMON);
    assertThat(still.problems()).containsExactly("the flow must be more than zero, it is 0 g/s");
  }

  @Test
  void changes_are_said_in_the_terms_of_the_cup() {
    assertThat(CupEffects.of(COMMON, COMMON)).isEmpty();
    assertThat(CupEffects.of(COMMON, recipe(20, 300, 0.4, 40, 4, 1, byClock(45))))
        .containsExactly(
            "A smaller first pour in the opening favours sweetness.",
            "More closing pours give a stronger cup.");
    assertThat(CupEffects.of(COMMON, recipe(20, 320, 0.4, 70, 2, 1, drained(45))))
        .containsExactly(
            "A larger first pour in the opening favours acidity.",
            "Fewer closing pours give a weaker cup.",
            "More water to the coffee (1:16.0) makes a weaker cup and draws out more of the"
                + " coffee.",
            "Waiting until the bed has drained raises extraction.");
    assertThat(
            CupEffects.of(
                recipe(20, 300, 0.4, 50, 3, 1, drained(45)),
                recipe(25, 300, 0.4, 50, 3, 1, byClock(45))))
        .containsExactly(
            "Less water to the coffee (1:12.0) makes a stronger cup and draws out less of the"
                + " coffee.",
            "Pouring before the bed has drained lowers extraction.");
  }

  private static Pace byClock(int seconds) {
    return new Pace.ByClock(Duration.ofSeconds(seconds));
  }

  private static Pace drained(int seconds) {
    return new Pace.WhenDrained(Duration.ofSeconds(seconds));
  }

  private static Start at(int seconds) {
    return new Start.AtClock(SessionTime.ofSeconds(seconds));
  }

  private static List<Double> grams(Plan plan) {
    return plan.pours().stream().map(pour -> pour.add().grams()).toList();
  }

  private static Recipe recipe(
      double dose, double water, double share, double first, int closing, double step, Pace pace) {
    return new Recipe(
        "trial",
        Mass.ofGrams(dose),
        Mass.ofGrams(water),
        share,
        Mass.ofGrams(first),
        closing,
        Flow.ofGramsPerSecond(6),
        pace,
        Mass.ofGrams(step),
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        Rig.WHOLE,
        Tolerance.COMMON);
  }
}
