package pourwright.check;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import pourwright.check.Verdict.Item;
import pourwright.metrology.WeightClass;
import pourwright.performance.Estimate;
import pourwright.simulate.Flaws;
import pourwright.simulate.ScaleTraits;

/** One fault at a time, of known size: it is found, it alone, and the verdict says what to do. */
class FaultsTest {
  private static final Kit KIT = SimulatedCheck.kit(WeightClass.M1, 50, 100, 200);
  private static final ScaleTraits PLAIN =
      new ScaleTraits(10, 0.1, 1, 0.06, 0.1, 0, false, 1, 0.004);

  private static Appraisal appraised(ScaleTraits traits, Flaws flaws) {
    return Appraisal.of(
        new SimulatedCheck(traits, flaws, Programme.of(KIT, Thoroughness.USUAL), 31)
            .run()
            .check()
            .measured());
  }

  private static Map<String, Item> items(Appraisal scale) {
    return Verdict.of(scale, Demands.COMMON).items().stream()
        .collect(Collectors.toMap(Item::name, Function.identity()));
  }

  private static Item item(Appraisal scale, String name) {
    return items(scale).entrySet().stream()
        .filter(one -> one.getKey().equals(name))
        .findFirst()
        .orElseThrow()
        .getValue();
  }

  private static Estimate figure(Appraisal scale, String key) {
    return scale.figures().stream()
        .filter(figure -> figure.key().equals(key))
        .findFirst()
        .orElseThrow()
        .estimate();
  }

  @Test
  void a_scale_without_fault_passes_in_everything() {
    Appraisal good =
        appraised(new ScaleTraits(20, 0.05, 1, 0.03, 0.1, 0, false, 1, 0.004), Flaws.NONE);
    Verdict verdict = Verdict.of(good, Demands.COMMON);
    assertThat(verdict.items()).extracting(Item::grade).containsOnly(Grade.PASS);
    assertThat(verdict.overall()).isEqualTo(Grade.PASS);
    assertThat(verdict.smallestToleranceGrams()).isLessThan(1);
    assertThat(verdict.smallestToleranceGrams()).isCloseTo(3 * verdict.guardGrams(), within(1e-9));
    assertThat(verdict.overshoots())
        .extracting(Verdict.Overshoot::flow)
        .containsExactly(4.0, 6.0, 8.0);
    assertThat(verdict.yardstick()).contains("class III");
  }

  @ParameterizedTest
  @ValueSource(doubles = {0.05, 0.2, 0.7})
  void lag(double seconds) {
    Appraisal late =
        appraised(
            new ScaleTraits(10, seconds, 1, 0.06, 0.1, 0, false, 1, 0.004),
            Flaws.NONE.withDeadSeconds(0.1));
    assertThat(figure(late, "filter_lag_s").covers(seconds)).isTrue();
    assertThat(late.lag().orElseThrow().covers(seconds + 0.1)).isTrue();
    assertThat(item(late, "lag").finding()).contains("behind", "8.0 g/s");
    assertThat(item(late, "lag").advice()).contains("cue");
  }

  @Test
  void nonlinearity_and_a_wrong_span() {
    Appraisal bent = appraised(PLAIN, Flaws.NONE.withBowGrams(1.5).withSpanShare(0.02));
    Flaws truth = Flaws.NONE.withBowGrams(1.5).withSpanShare(0.02);
    assertThat(bent.errors())
        .allSatisfy(
            error ->
                assertThat(error.error().value())
                    .isCloseTo(truth.errorGrams(error.loadGrams()), within(0.12)));
    assertThat(bent.linearity().orElseThrow().worst().error().isReal()).isTrue();
    Item item = item(bent, "true weights");
    assertThat(item.grade()).isEqualTo(Grade.FAIL);
    assertThat(item.advice()).contains("adjusted");
    assertThat(Verdict.of(bent, Demands.COMMON).yardstick()).contains("beyond");
  }

  @Test
  void hysteresis() {
    Appraisal found = appraised(PLAIN, Flaws.NONE.withHysteresisGrams(1));
    assertThat(found.hysteresis().orElseThrow().difference().covers(0.975)).isTrue();
  }

  @Test
  void corner_error() {
    Appraisal found = appraised(PLAIN, Flaws.NONE.withCorners(0.01, 0));
    assertThat(figure(found, "corner_back_right_g").covers(2)).isTrue();
    assertThat(figure(found, "corner_front_left_g").covers(-2)).isTrue();
    assertThat(item(found, "corners").grade()).isNotEqualTo(Grade.PASS);
    assertThat(item(found, "corners").advice()).contains("middle");
  }

  @Test
  void drift_and_warming_up() {
    Appraisal drifting =
        appraised(new ScaleTraits(10, 0.1, 1, 0.06, 0.1, 0.6, false, 1, 0.004), Flaws.NONE);
    assertThat(figure(drifting, "zero_drift_g_per_min").covers(0.6)).isTrue();
    assertThat(item(drifting, "drift").grade()).isNotEqualTo(Grade.PASS);
    Appraisal warming = appraised(PLAIN, Flaws.NONE.withWarmUp(2, 60));
    assertThat(warming.zeroDrift().orElseThrow().isWarmingUp()).isTrue();
    assertThat(item(warming, "drift").finding()).contains("warming up");
  }

  @Test
  void creep() {
    Appraisal found = appraised(PLAIN, Flaws.NONE.withCreep(0.004, 30));
    assertThat(found.creep().orElseThrow().value()).isPositive();
    assertThat(found.creep().orElseThrow().isReal()).isTrue();
  }

  @Test
  void whole_gram_steps() {
    Appraisal coarse =
        appraised(new ScaleTraits(8, 0.1, 1, 0.1, 1.0, 0, false, 1, 0.004), Flaws.NONE);
    assertThat(coarse.display().stepGrams()).isEqualTo(1);
    Item item = item(coarse, "judging pours");
    assertThat(item.grade()).isNotEqualTo(Grade.PASS);
    assertThat(item.advice()).contains("steps of 1.00 g");
  }

  @Test
  void freezing_and_auto_zero() {
    Appraisal frozen = appraised(ScaleTraits.GOOD, Flaws.NONE.withFreezeGrams(1.2));
    assertThat(frozen.slowWater().orElseThrow().freeze().orElseThrow().value())
        .isCloseTo(1.2, within(0.2));
    assertThat(item(frozen, "slow water").finding()).contains("freezes and then jumps");
    Appraisal swallowing =
        appraised(new ScaleTraits(8, 0.25, 1, 0.1, 1.0, 0, true, 1, 0.01), Flaws.NONE);
    assertThat(swallowing.slowWater().orElseThrow().swallowed().isReal()).isTrue();
    assertThat(item(swallowing, "slow water").grade()).isEqualTo(Grade.FAIL);
  }

  @Test
  void restless_slow_and_lossy_links() {
    Appraisal restless =
        appraised(new ScaleTraits(2, 0.1, 1, 0.6, 0.1, 0, false, 1, 0.004), Flaws.NONE);
    assertThat(item(restless, "judging pours").grade()).isEqualTo(Grade.FAIL);
    assertThat(item(restless, "judging pours").advice()).contains("restless");
    assertThat(item(restless, "reading rate").grade()).isEqualTo(Grade.FAIL);
    SimulatedCheck lost =
        new SimulatedCheck(PLAIN, Flaws.NONE, Programme.of(KIT, Thoroughness.QUICK), 3);
    lost.scale().cut(6, 5);
    Appraisal found = Appraisal.of(lost.run().check().measured());
    assertThat(item(found, "link").grade()).isEqualTo(Grade.FAIL);
    assertThat(item(found, "corners").grade()).isEqualTo(Grade.UNKNOWN);
    assertThat(item(found, "drift").finding()).isNotEmpty();
    assertThat(item(found, "slow water").grade()).isEqualTo(Grade.UNKNOWN);
  }

  @Test
  void what_was_not_measured_is_not_known() {
    Check check = new Check(Programme.of(new Kit(List.of(), Kit.ANY_OBJECT), Thoroughness.LONG));
    check.begin();
    assertThat(Appraisal.isPossible(check.measured())).isFalse();
    assertThatThrownBy(() -> Appraisal.of(check.measured()))
        .isInstanceOf(IllegalArgumentException.class);
    new Readings(check).hold(0, 24);
    Appraisal little = Appraisal.of(check.measured());
    assertThat(little.notes()).anyMatch(note -> note.contains("ended early"));
    assertThat(little.lag()).isEmpty();
    assertThat(little.repeatability()).isEmpty();
    Verdict verdict = Verdict.of(little, Demands.COMMON);
    assertThat(verdict.yardstick()).isEmpty();
    assertThat(verdict.overshoots()).isEmpty();
    assertThat(item(little, "lag").grade()).isEqualTo(Grade.UNKNOWN);
    assertThat(item(little, "drift").grade()).isEqualTo(Grade.UNKNOWN);
    assertThat(Grade.UNKNOWN.word()).isEqualTo("not known");
  }

  private static CheckRecord record(List<Figure> figures) {
    return new CheckRecord(
        Instant.EPOCH, "sim:x", "p", "usual", List.of(), true, 0, 0, figures, List.of());
  }

  private static Figure figure(String key, double value, double half) {
    return new Figure(key, key, "g", new Estimate(value, half / 2, value - half, value + half), "");
  }

  @Test
  void only_what_both_intervals_cannot_explain_has_changed() {
    CheckRecord before =
        record(
            List.of(
                figure("noise_g", 0.10, 0.02),
                figure("lag_s", 0.3, 0.05),
                figure("rate_per_s", 10, 0),
                figure("gone_g", 1, 0)));
    CheckRecord now =
        record(
            List.of(
                figure("noise_g", 0.12, 0.02),
                figure("lag_s", 0.2, 0.05),
                figure("rate_per_s", 10.1, 0),
                figure("new_g", 1, 0)));
    assertThat(Change.between(before, now))
        .extracting(Change::isReal)
        .containsExactly(false, true, false);
    assertThat(before.lagSeconds()).hasValue(0.3);
    assertThat(record(List.of()).lagSeconds()).isEmpty();
  }

  @Test
  void a_figure_is_written_with_the_places_its_doubt_allows() {
    assertThat(figure("a", 1.23456, 0.02).valueText()).isEqualTo("1.235");
    assertThat(figure("a", -0.00001, 0.02).valueText()).isEqualTo("0.000");
    assertThat(figure("a", 12.4, 30).intervalText()).isEqualTo("-18 to 42");
    assertThat(figure("a", 0.1, 0).intervalText()).isEqualTo("exact");
    assertThat(figure("a", 0.1, 0).valueText()).isEqualTo("0.10");
  }
}
