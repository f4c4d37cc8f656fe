package pourwright.bed;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import pourwright.water.Water;

class PackedBedTest {
  /** Published example: porosity 0.30, d10 0.1 mm, 10 °C gives 0.000 023 m/s. */
  @Test
  void kozeny_and_carman_for_fine_sand() {
    double conductivity =
        PackedBed.conductivity(new PackedBed(1e-4, 0.30).permeability(), Water.atCelsius(10));
    assertThat(conductivity).isCloseTo(2.2989e-5, within(2e-8));
  }

  @Test
  void kozeny_and_carman_for_half_millimetre_grains() {
    assertThat(new PackedBed(0.5e-3, 0.40).permeability()).isCloseTo(2.46914e-10, within(1e-15));
  }

  /** S. Ergun 1952, as worked in the documentation of the Python library fluids 1.3. */
  @Test
  void ergun_for_eight_tenths_of_a_millimetre() {
    double loss = new PackedBed(8e-4, 0.4).pressureLoss(1e-3, 1000, 1e-3, 1);
    assertThat(loss).isCloseTo(1338.8671875, within(1e-7));
  }

  @Test
  void darcy_is_enough_at_the_speed_of_a_drawdown() {
    // 3 g/s through a bed of 60 mm
    double speed = 3e-6 / (Math.PI * 0.03 * 0.03);
    assertThat(new PackedBed(5e-4, 0.4).inertialShare(speed, Water.atCelsius(93)))
        .isBetween(0.0, 0.05);
  }

  @Test
  void conductivity_and_permeability_are_inverse() {
    Water hot = Water.atCelsius(92);
    assertThat(PackedBed.permeability(PackedBed.conductivity(3e-11, hot), hot))
        .isCloseTo(3e-11, within(1e-24));
  }

  @ParameterizedTest
  @CsvSource({"0, 0.4", "1e-3, 0", "1e-3, 1", "NaN, 0.4"})
  void grains_without_size_or_room_are_refused(double grain, double porosity) {
    assertThatThrownBy(() -> new PackedBed(grain, porosity))
        .isInstanceOf(IllegalArgumentException.class);
  }
}
