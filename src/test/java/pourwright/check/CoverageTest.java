package pourwright.check;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import pourwright.check.CoverageBench.Hits;

/**
 * A small part of {@link CoverageBench}: stated intervals hold the truth about as often as said.
 */
class CoverageTest {
  private static final int CHECKS = 5;
  private static final long FIRST_SEED = 5_000;

  @ParameterizedTest
  @EnumSource(FlawedFamily.class)
  void intervals_hold_the_truth_about_as_often_as_they_say(FlawedFamily family) {
    Map<String, Hits> hits = CoverageBench.tally(family::run, FIRST_SEED, CHECKS);
    assertThat(hits).hasSizeGreaterThan(14);
    int covered = hits.values().stream().mapToInt(Hits::covered).sum();
    int all = hits.values().stream().mapToInt(Hits::all).sum();
    // 95 % of about 90 figures, which are not independent of each other
    assertThat(covered / (double) all).isGreaterThan(0.85);
    hits.forEach(
        (key, one) -> assertThat(one.covered()).as(key).isGreaterThanOrEqualTo(one.all() / 2));
    assertThat(hits.entrySet())
        .filteredOn(one -> one.getKey().equals("display_step_g"))
        .singleElement()
        .satisfies(one -> assertThat(one.getValue().covered()).isEqualTo(CHECKS));
  }

  @Test
  void what_a_freezing_display_hides_is_found_and_so_is_the_water_it_hid() {
    Map<String, Hits> hits = CoverageBench.tally(FreezingScales::run, FIRST_SEED, 2 * CHECKS);
    assertThat(hits).containsOnlyKeys("slow_water_g", "freeze_g");
    hits.forEach((key, one) -> assertThat(one.covered()).as(key).isGreaterThanOrEqualTo(8));
  }
}
