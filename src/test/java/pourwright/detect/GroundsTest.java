package pourwright.detect;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import pourwright.detect.PourEvent.Discarded;
import pourwright.detect.PourEvent.PourEnded;
import pourwright.detect.PourEvent.PourStarted;
import pourwright.units.Mass;

/** Ground coffee comes to the rig much as water does, and is no pour. */
class GroundsTest {
  /** Server and dripper are put down before our eyes, without coffee. */
  private static Scene putTogether() {
    return new Scene().rate(40).noise(0.02).rest(3).put(280).rest(3).put(130).rest(4);
  }

  private static Analysis analysed(Scene scene, double dose) {
    return scene.analysed(DetectorSettings.standard().withDose(Mass.ofGrams(dose)));
  }

  private static List<PourStarted> starts(Scene scene, double dose) {
    return Said.all(analysed(scene, dose), PourStarted.class);
  }

  private static void startsWith(Scene scene, double dose, double known) {
    List<PourStarted> starts = starts(scene, dose);
    assertThat(starts).hasSameSizeAs(scene.pours());
    double truth = scene.pours().get(0).start();
    assertThat(starts.get(0).at().seconds()).isCloseTo(truth, within(0.6));
    assertThat(starts.get(0).knownAt().seconds()).isCloseTo(truth, within(known));
  }

  @ParameterizedTest
  @ValueSource(doubles = {0.7, 1.1, 1.5})
  void dose_that_is_tipped_in_is_no_pour(double seconds) {
    Scene scene = putTogether().lag(0.17).trickle(12.5, seconds).rest(5).pour(50, 5).rest(10);
    startsWith(scene, 12.5, 0.8);
  }

  @Test
  void dose_that_is_tipped_into_a_tared_rig_is_no_pour() {
    Scene scene = new Scene().rate(20).rest(5).trickle(13, 0.75).rest(5).pour(50, 5).rest(10);
    startsWith(scene, 13, 0.8);
  }

  @Test
  void dose_that_comes_in_portions_is_no_pour() {
    Scene scene = putTogether();
    for (int spoon = 0; spoon < 4; spoon++) {
      scene.trickle(4.2, 0.45).rest(1.8);
    }
    startsWith(scene.rest(3).pour(50, 5).rest(10), 17, 0.8);
  }

  @Test
  void portions_that_are_dropped_in_are_added_up() {
    Scene scene = putTogether();
    for (int lump = 0; lump < 3; lump++) {
      scene.put(5.5).rest(3);
    }
    startsWith(scene.rest(3).pour(50, 6).rest(10), 17, 0.8);
  }

  /** Slower than anything that is held back, it is told, and taken back where it ends. */
  @Test
  void dose_that_trickled_in_like_water_is_taken_back_at_its_end() {
    Scene scene = putTogether().trickle(17, 5).rest(6).pour(50, 5).rest(10);
    Analysis analysis = analysed(scene, 17.2);
    assertThat(Said.all(analysis, PourStarted.class))
        .extracting(PourStarted::index)
        .containsExactly(1, 1);
    List<Discarded> discarded = Said.all(analysis, Discarded.class);
    assertThat(discarded).hasSize(1);
    assertThat(discarded.get(0).at().seconds()).isCloseTo(15, within(0.3));
    assertThat(discarded.get(0).knownAt().seconds()).isCloseTo(16.1, within(0.3));
    assertThat(analysis.findings().pours()).hasSize(1);
  }

  /** Neither more than the dose, nor so much where no dose was stated or the coffee was seen. */
  @Test
  void little_water_that_is_not_the_dose_stays_a_pour() {
    assertThat(Said.all(analysed(putTogether().pour(20, 4).rest(8), 17), Discarded.class))
        .isEmpty();
    assertThat(Said.all(putTogether().pour(17, 4).rest(8).analysed(), Discarded.class)).isEmpty();
    Scene seen = putTogether().put(17).rest(5).pour(17, 4).rest(8);
    assertThat(Said.all(analysed(seen, 17), Discarded.class)).isEmpty();
  }

  /** A brewer whose coffee is in the dripper already needs the start at once. */
  @ParameterizedTest
  @ValueSource(doubles = {3, 4.5, 6})
  void water_of_a_usual_flow_on_a_rig_put_down_with_its_coffee_is_told_at_once(double flow) {
    Scene scene = new Scene().rest(3).put(370).rest(4).tare(0).rest(4).pour(45, flow).rest(10);
    startsWith(scene, 16.5, 0.8);
  }

  @Test
  void water_that_had_to_bring_more_than_a_large_dose_keeps_its_beginning() {
    Scene scene = putTogether().pour(110, 8.5).rest(10);
    startsWith(scene, 32, 6);
    List<PourEnded> ends = Said.all(analysed(scene, 32), PourEnded.class);
    assertThat(ends).hasSize(1);
    assertThat(ends.get(0).poured().grams()).isCloseTo(scene.pours().get(0).grams(), within(1.0));
  }

  @Test
  void what_was_no_water_ends_no_sooner_than_it_began() {
    for (double grams = 6; grams < 30; grams += 2) {
      Scene scene = new Scene().rate(40).noise(0.013).lag(0.13).rest(6).pour(40, 5);
      scene.rest(3.4).push(0, grams, 1.1).rest(10);
      PourStarted open = null;
      for (PourEvent event : scene.analysed().announced()) {
        if (event instanceof PourStarted started) {
          open = started;
        } else if (event instanceof PourEnded ended && open != null) {
          assertThat(ended.at()).isGreaterThanOrEqualTo(open.at());
        }
      }
    }
  }
}
