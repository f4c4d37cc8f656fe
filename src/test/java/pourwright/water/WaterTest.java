package pourwright.water;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import pourwright.units.Mass;

class WaterTest {
  /** Kell 1975, evaluated with the corrected denominator. */
  @ParameterizedTest
  @CsvSource({
    "0, 999.840", "4, 999.972", "20, 998.204", "25, 997.045", "50, 988.036",
    "88, 966.655", "90, 965.320", "93, 963.282", "96, 961.202", "100, 958.364"
  })
  void density_is_that_of_kell(double celsius, double expected) {
    assertThat(Water.atCelsius(celsius).kilogramsPerCubicMetre()).isCloseTo(expected, within(6e-4));
  }

  /** Tanaka et al., Metrologia 38 (2001) 301: another formula, made for 0 to 40 °C. */
  @ParameterizedTest
  @CsvSource({"10, 999.7026", "15, 999.1026", "22, 997.7735", "30, 995.6502"})
  void density_agrees_with_the_metrologists_table(double celsius, double expected) {
    assertThat(Water.atCelsius(celsius).kilogramsPerCubicMetre()).isCloseTo(expected, within(4e-3));
  }

  /** IAPWS R12-08 evaluated at 101.325 kPa. */
  @ParameterizedTest
  @CsvSource({
    "0, 1.7918", "10, 1.3059", "20, 1.0016", "25, 0.8900", "50, 0.5465",
    "80, 0.3541", "90, 0.3142", "93, 0.3037", "96, 0.2939", "100, 0.2816"
  })
  void viscosity_is_that_of_the_steam_association(double celsius, double millipascalSeconds) {
    assertThat(Water.atCelsius(celsius).pascalSeconds() * 1e3)
        .isCloseTo(millipascalSeconds, within(6e-5 + 1e-4 * millipascalSeconds));
  }

  /** Korson, Drost-Hansen and Millero, J. Phys. Chem. 73 (1969) 34, Table II: measured. */
  @ParameterizedTest
  @CsvSource({"5, 1.5192", "20, 1.0020", "40, 0.6532", "60, 0.4666", "80, 0.3538", "90, 0.3128"})
  void viscosity_agrees_with_measurement_within_one_percent(
      double celsius, double millipascalSeconds) {
    assertThat(Water.atCelsius(celsius).pascalSeconds() * 1e3)
        .isCloseTo(millipascalSeconds, within(0.01 * millipascalSeconds));
  }

  @Test
  void hot_water_drains_in_less_than_a_third_of_the_time() {
    double ratio =
        Water.atCelsius(93).squareMetresPerSecond() / Water.atCelsius(20).squareMetresPerSecond();
    assertThat(ratio).isCloseTo(0.31422, within(1e-4));
  }

  @Test
  void mass_and_volume_go_back_and_forth() {
    Water hot = Water.atCelsius(93.5);
    assertThat(hot.mass(hot.millilitres(Mass.ofGrams(66)))).isEqualTo(Mass.ofGrams(66));
    assertThat(hot.millilitres(Mass.ofGrams(100))).isCloseTo(103.85, within(0.01));
  }

  @ParameterizedTest
  @ValueSource(doubles = {-0.1, 100.1, Double.NaN})
  void ice_and_steam_are_refused(double celsius) {
    assertThatThrownBy(() -> Water.atCelsius(celsius))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("0 to 100 °C");
  }

  /** IAPWS-95, evaluated. */
  @ParameterizedTest
  @CsvSource({
    "5, 872.58, 2489.0", "20, 2339.3, 2453.5", "50, 12352, 2381.9", "75, 38595, 2320.6",
    "90, 70182, 2282.5", "93, 78567, 2274.7", "96, 87771, 2266.9", "100, 101418, 2256.4"
  })
  void vapour_is_that_of_the_tables(double celsius, double pascals, double kilojoules) {
    Water water = Water.atCelsius(celsius);
    assertThat(water.vapourPascals()).isCloseTo(pascals, within(1e-3 * pascals));
    assertThat(water.latentJoulesPerKilogram() / 1e3)
        .isCloseTo(kilojoules, within(5e-4 * kilojoules));
  }

  /** NBS/NRC steam tables (Haar, Gallagher, Kell 1984), on the temperature scale of 1968. */
  @ParameterizedTest
  @CsvSource({"99.632, 100000", "91.783, 75000", "81.339, 50000", "64.980, 25000"})
  void water_boils_where_the_steam_tables_say(double celsius, double pascals) {
    assertThat(Water.atCelsius(celsius).vapourPascals()).isCloseTo(pascals, within(1e-3 * pascals));
  }
}
