package pourwright.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import pourwright.rig.Place;
import pourwright.rig.Rig;

/** The bench itself: a ruler that is bent measures nothing. */
class TakesTest {
  @ParameterizedTest
  @EnumSource(Family.class)
  void same_seed_makes_the_same_recording(Family family) {
    assertThat(Takes.of(family, 5)).isEqualTo(Takes.of(family, 5));
    assertThat(Takes.of(family, 5).curves()).isNotEqualTo(Takes.of(family, 6).curves());
  }

  @ParameterizedTest
  @EnumSource(Family.class)
  void truth_keeps_the_rules_of_pours_and_readings_arrive_in_order(Family family) {
    for (long seed = 1; seed <= 6; seed++) {
      Take take = Takes.of(family, seed);
      List<Truth.Pour> pours = take.truth().pours();
      assertThat(pours).isNotEmpty();
      for (int i = 1; i < pours.size(); i++) {
        assertThat(pours.get(i).startSeconds() - pours.get(i - 1).endSeconds())
            .as("%s seed %d", family, seed)
            .isGreaterThanOrEqualTo(3.0);
      }
      for (Take.Curve curve : take.curves().values()) {
        assertThat(curve.samples())
            .isSortedAccordingTo(
                (one, other) -> one.reading().at().compareTo(other.reading().at()));
      }
    }
  }

  @Test
  void the_ideal_display_rises_by_what_was_poured_less_what_evaporated() {
    int checked = 0;
    for (long seed = 1; seed <= 25; seed++) {
      Take take = Takes.of(Family.CLEAN, seed);
      for (Truth.Pour pour : take.truth().pours()) {
        if (pour.isCut()) {
          continue;
        }
        double before = idealAt(take.leading(), pour.startSeconds());
        double after = idealAt(take.leading(), pour.endSeconds() + 1.5);
        double length = pour.endSeconds() + 1.5 - pour.startSeconds();
        // drips may add 0.4 g; evaporation takes at most 0.06 g/s, drift and creep less than 0.2 g
        assertThat(after - before)
            .as("seed %d at %.1f s", seed, pour.startSeconds())
            .isBetween(pour.grams() - 0.06 * length - 0.25, pour.grams() + 0.6);
        checked++;
      }
    }
    assertThat(checked).isGreaterThan(50);
  }

  @Test
  void what_is_lifted_and_what_is_left_make_up_the_whole() {
    int checked = 0;
    for (long seed = 1; seed <= 25; seed++) {
      Take take = Takes.of(Family.SPLIT, seed);
      if (take.truth().lift().isEmpty()) {
        continue;
      }
      Truth.Lift lift = take.truth().lift().get();
      double fall =
          idealAt(take.leading(), lift.seconds() - 0.6)
              - idealAt(take.leading(), lift.seconds() + 1.5);
      assertThat(fall).isCloseTo(lift.removedGrams(), within(0.5));
      double poured = take.truth().pours().stream().mapToDouble(Truth.Pour::grams).sum();
      assertThat(lift.beverageGrams()).isBetween(0.0, poured);
      checked++;
    }
    assertThat(checked).isGreaterThan(10);
  }

  @Test
  void a_split_rig_has_two_scales_and_the_bed_runs_dry_on_most_pours() {
    int pours = 0;
    int dry = 0;
    for (long seed = 1; seed <= 25; seed++) {
      Take take = Takes.of(Family.SPLIT, seed);
      assertThat(take.rig()).isEqualTo(Rig.SPLIT);
      assertThat(take.curves()).containsOnlyKeys(Place.WHOLE, Place.SERVER);
      for (Truth.Pour pour : take.truth().pours()) {
        pours++;
        if (pour.drainedSeconds().isPresent()) {
          dry++;
          assertThat(pour.drainedSeconds().get()).isGreaterThan(pour.endSeconds());
        }
      }
    }
    assertThat(dry).isGreaterThan(pours / 3);
  }

  private static double idealAt(Take.Curve curve, double seconds) {
    double ideal = Double.NaN;
    for (Take.Sample sample : curve.samples()) {
      if (sample.seconds() > seconds) {
        break;
      }
      ideal = sample.idealGrams();
    }
    return ideal;
  }
}
