package pourwright.mineral;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import pourwright.mineral.Blend.Water;
import pourwright.mineral.Minerals.Salt;
import pourwright.units.Mass;

class BlendTest {
  private static final Water PURE = new Water("distilled", Minerals.NONE);
  private static final Water HARD =
      new Water("hardness concentrate", Salt.MAGNESIUM_SULPHATE_HEPTAHYDRATE.dissolved(2.45));
  private static final Water BUFFER =
      new Water("buffer concentrate", Salt.SODIUM_BICARBONATE.dissolved(1.68));
  private static final Mass BATCH = Mass.ofGrams(1_500);

  /** By hand: 68 / 994.9 and 40 / 1000.8 of the batch. */
  @Test
  void two_concentrates_in_distilled_water() {
    Blend blend =
        Blend.forTarget(List.of(PURE, HARD, BUFFER), new Minerals(68, 40), BATCH).orElseThrow();
    assertThat(grams(blend, HARD)).isCloseTo(1_500 * 68 / 994.9, within(0.01));
    assertThat(grams(blend, BUFFER)).isCloseTo(1_500 * 40 / 1000.8, within(0.01));
    assertThat(blend.total().grams()).isCloseTo(1_500, within(1e-6));
  }

  @Test
  void a_target_beyond_every_water_is_refused() {
    assertThat(Blend.forTarget(List.of(PURE, HARD), new Minerals(68, 40), BATCH)).isEmpty();
    assertThat(Blend.forTarget(List.of(PURE, HARD, BUFFER), new Minerals(990, 500), BATCH))
        .isEmpty();
    assertThat(Blend.forTarget(List.of(), Minerals.NONE, BATCH)).isEmpty();
  }

  @Test
  void the_water_named_first_is_used_as_far_as_it_goes() {
    Water tap = new Water("tap", new Minerals(120, 60));
    Blend half =
        Blend.forTarget(List.of(tap, PURE, HARD, BUFFER), new Minerals(60, 30), BATCH)
            .orElseThrow();
    assertThat(grams(half, tap)).isCloseTo(750, within(1e-6));
    assertThat(grams(half, PURE)).isCloseTo(750, within(1e-6));
    Blend all = Blend.forTarget(List.of(tap, PURE), new Minerals(120, 60), BATCH).orElseThrow();
    assertThat(grams(all, tap)).isCloseTo(1_500, within(1e-6));
  }

  /** Whatever was mixed can be found again. */
  @Test
  void every_mixture_is_a_target_that_can_be_met() {
    SplittableRandom random = new SplittableRandom(7);
    List<Water> waters = List.of(new Water("tap", new Minerals(140, 90)), PURE, HARD, BUFFER);
    for (int round = 0; round < 300; round++) {
      double total = 0;
      double hardness = 0;
      double alkalinity = 0;
      for (Water water : waters) {
        double share = random.nextInt(3) == 0 ? 0 : random.nextDouble();
        total += share;
        hardness += share * water.minerals().hardnessMgPerLitre();
        alkalinity += share * water.minerals().alkalinityMgPerLitre();
      }
      if (total == 0) {
        continue;
      }
      Minerals target = new Minerals(hardness / total, alkalinity / total);
      Optional<Blend> blend = Blend.forTarget(waters, target, BATCH);
      assertThat(blend).as("round %s: %s", round, target).isPresent();
      Minerals met = blend.orElseThrow().minerals();
      assertThat(met.hardnessMgPerLitre()).isCloseTo(target.hardnessMgPerLitre(), within(1e-3));
      assertThat(met.alkalinityMgPerLitre()).isCloseTo(target.alkalinityMgPerLitre(), within(1e-3));
    }
  }

  @Test
  void an_empty_blend_carries_nothing() {
    assertThat(new Blend(Map.of()).minerals()).isEqualTo(Minerals.NONE);
  }

  private static double grams(Blend blend, Water water) {
    return blend.parts().getOrDefault(water, Mass.ZERO).grams();
  }

  @Test
  void two_bottles_of_the_same_water_are_one() {
    Blend.Water tap = new Blend.Water("tap", new Minerals(100, 50));
    Blend.Water soft = new Blend.Water("soft", Minerals.NONE);
    Blend blend =
        Blend.forTarget(
                java.util.List.of(tap, tap, soft), new Minerals(50, 25), Mass.ofGrams(1_000))
            .orElseThrow();
    assertThat(blend.total().grams()).isCloseTo(1_000, within(1e-6));
    assertThat(grams(blend, tap)).isCloseTo(500, within(1e-6));
  }
}
