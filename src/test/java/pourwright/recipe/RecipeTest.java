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
  private static final Mass GRAM = Mass.ofGrams(1);
  private static final Recipe COMMON = recipe(20, 300, 0.40, 50, 3, 1, byClock(45));

  /** Common practice, no source. */
  @Test
  void the_common_scheme() {
    assertThat(grams(COMMON.toPlan())).containsExactly(50.0, 70.0, 60.0, 60.0, 60.0);
    assertThat(COMMON.ratio()).isEqualTo(15);
    assertThat(Recipe.waterFor(Mass.ofGrams(20), 15, GRAM)).isEqualTo(Mass.ofGrams(300));
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
            Recipe.evenly(3),
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
  void closing_pours_share_the_rest_as_they_are_told() {
    assertThat(grams(split(300, List.of(3.0, 2.0, 1.0), byClock(45)).toPlan()))
        .containsExactly(50.0, 70.0, 90.0, 60.0, 30.0);
    assertThat(grams(split(300, List.of(1.0, 1.0, 1.5), byClock(45)).toPlan()))
        .containsExactly(50.0, 70.0, 51.0, 52.0, 77.0);
    assertThat(split(300, List.of(1.0, 0.0), byClock(45)).problems())
        .containsExactly("every part of the closing split must be more than zero");
    assertThat(split(300, List.of(1.0, Double.POSITIVE_INFINITY), byClock(45)).problems())
        .containsExactly("every part of the closing split must be more than zero");
  }

  @Test
  void a_pour_can_follow_the_end_of_the_one_before() {
    Recipe gaps = split(300, List.of(1.0), new Pace.AfterEnd(Duration.ofSeconds(30)));
    assertThat(gaps.toPlan().pours())
        .extracting(PlannedPour::start)
        .containsExactly(
            at(0),
            new Start.AfterEnd(Duration.ofSeconds(30)),
            new Start.AfterEnd(Duration.ofSeconds(30)));
    assertThat(split(300, List.of(1.0), new Pace.AfterEnd(Duration.ofSeconds(2))).problems())
        .first()
        .isEqualTo("pour 2 starts 2.0 s after the end of pour 1; leave at least 3 s between pours");
  }

  @Test
  void water_and_first_pour_are_what_the_scale_can_show() {
    assertThat(Recipe.waterFor(Mass.ofGrams(16.5), 15.7, GRAM)).isEqualTo(Mass.ofGrams(259));
    assertThat(Recipe.waterFor(Mass.ofGrams(16.5), 15.7, Mass.ofGrams(0.1)))
        .isEqualTo(Mass.ofGrams(259.1));
    assertThat(Recipe.usualFirstPour(Mass.ofGrams(300), 0.4, GRAM)).isEqualTo(Mass.ofGrams(50));
    assertThat(Recipe.usualFirstPour(Mass.ofGrams(264), 0.41, GRAM)).isEqualTo(Mass.ofGrams(45));
  }

  @Test
  void the_first_two_pours_of_a_plan_are_its_opening() {
    assertThat(Scheme.of(COMMON.toPlan()))
        .isEqualTo(new Scheme(15, 50.0 / 120, 3, false, OptionalDouble.empty()));
    assertThat(Scheme.of(recipe(15, 240, 1, 60, 0, 1, drained(60)).toPlan()))
        .isEqualTo(new Scheme(16, 0.25, 0, true, OptionalDouble.empty()));
    assertThat(Scheme.of(recipe(15, 240, 1, 240, 0, 1, byClock(60)).toPlan()))
        .isEqualTo(new Scheme(16, 1, 0, false, OptionalDouble.empty()));
  }

  @Test
  void changes_are_said_in_the_terms_of_the_cup() {
    assertThat(effects(COMMON, COMMON)).isEmpty();
    // a gram of rounding is no change
    assertThat(effects(COMMON, recipe(20, 300, 0.4, 51, 3, 1, byClock(45)))).isEmpty();
    assertThat(effects(COMMON, recipe(20, 300, 0.4, 40, 4, 1, byClock(45))))
        .containsExactly(
            "A smaller first pour in the opening favours sweetness.",
            "More closing pours give a stronger cup.");
    assertThat(effects(COMMON, recipe(20, 320, 0.4, 70, 2, 1, drained(45))))
        .containsExactly(
            "A larger first pour in the opening favours acidity.",
            "Fewer closing pours give a weaker cup.",
            "More water to the coffee (1:16.0) makes a weaker cup and draws out more of the"
                + " coffee.",
            "Waiting until the bed has drained raises extraction.");
    assertThat(
            effects(
                recipe(20, 300, 0.4, 50, 3, 1, drained(45)),
                recipe(25, 300, 0.4, 50, 3, 1, byClock(45))))
        .containsExactly(
            "Less water to the coffee (1:12.0) makes a stronger cup and draws out less of the"
                + " coffee.",
            "Pouring before the bed has drained lowers extraction.");
  }

  @Test
  void a_change_of_the_kettle_is_said_too() {
    Scheme cool = new Scheme(15, 0.4, 3, false, OptionalDouble.of(90));
    Scheme hot = new Scheme(15, 0.4, 3, false, OptionalDouble.of(94));
    Scheme unknown = new Scheme(15, 0.4, 3, false, OptionalDouble.empty());
    assertThat(CupEffects.of(cool, hot))
        .containsExactly("Hotter water draws out more, and faster.");
    assertThat(CupEffects.of(hot, cool))
        .containsExactly("Cooler water draws out less, and slower.");
    assertThat(CupEffects.of(hot, hot)).isEmpty();
    assertThat(CupEffects.of(hot, unknown)).isEmpty();
    assertThat(CupEffects.of(unknown, hot)).isEmpty();
  }

  private static List<String> effects(Recipe before, Recipe after) {
    return CupEffects.of(Scheme.of(before.toPlan()), Scheme.of(after.toPlan()));
  }

  private static Recipe split(double water, List<Double> closing, Pace pace) {
    return new Recipe(
        "split",
        Mass.ofGrams(20),
        Mass.ofGrams(water),
        0.4,
        Mass.ofGrams(50),
        closing,
        Flow.ofGramsPerSecond(6),
        pace,
        GRAM,
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        Rig.WHOLE,
        Tolerance.COMMON);
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
        Recipe.evenly(closing),
        Flow.ofGramsPerSecond(6),
        pace,
        Mass.ofGrams(step),
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        Rig.WHOLE,
        Tolerance.COMMON);
  }
}
