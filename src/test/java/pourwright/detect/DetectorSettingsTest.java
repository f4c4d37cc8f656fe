package pourwright.detect;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import pourwright.rig.Place;
import pourwright.units.Mass;

class DetectorSettingsTest {
  private static final DetectorSettings NOTHING = DetectorSettings.standard();

  @ParameterizedTest
  @ValueSource(doubles = {-0.1, 10.1, Double.NaN})
  void lag_and_noise_outside_what_scales_have_are_refused(double value) {
    assertThatIllegalArgumentException()
        .isThrownBy(() -> NOTHING.withLagSeconds(Place.WHOLE, value))
        .withMessageContaining("0 to 10 s");
    assertThatIllegalArgumentException()
        .isThrownBy(() -> NOTHING.withNoiseGrams(Place.SERVER, value))
        .withMessageContaining("0 to 10 g");
  }

  @ParameterizedTest
  @ValueSource(doubles = {0, -1, 3601, Double.NaN})
  void rate_of_false_starts_is_above_nothing_and_at_most_one_a_second(double perHour) {
    assertThatIllegalArgumentException()
        .isThrownBy(() -> NOTHING.withFalseStartsPerHour(perHour))
        .withMessageContaining("false starts per hour");
  }

  @Test
  void each_place_has_its_own_lag_and_noise() {
    DetectorSettings known =
        NOTHING
            .withLagSeconds(Place.WHOLE, 0)
            .withLagSeconds(Place.SERVER, 10)
            .withNoiseGrams(Place.WHOLE, 0)
            .withNoiseGrams(Place.SERVER, 10);
    assertThat(known.lagSeconds(Place.WHOLE)).hasValue(0);
    assertThat(known.lagSeconds(Place.SERVER)).hasValue(10);
    assertThat(known.noiseGrams(Place.WHOLE)).hasValue(0);
    assertThat(known.noiseGrams(Place.SERVER)).hasValue(10);
  }

  @Test
  void what_is_added_takes_nothing_away() {
    DetectorSettings all =
        NOTHING
            .withDose(Mass.ofGrams(16))
            .withDripper(Mass.ofGrams(120))
            .withServer(Mass.ofGrams(250))
            .withPlannedWater(Mass.ofGrams(260))
            .withFalseStartsPerHour(0.5)
            .withLagSeconds(0.2);
    assertThat(all.dose()).contains(Mass.ofGrams(16));
    assertThat(all.dripper()).contains(Mass.ofGrams(120));
    assertThat(all.server()).contains(Mass.ofGrams(250));
    assertThat(all.plannedWater()).contains(Mass.ofGrams(260));
    assertThat(all.falseStartsPerHour()).isEqualTo(0.5);
    assertThat(all.lagSeconds(Place.SERVER)).hasValue(0.2);
    assertThat(NOTHING.dose()).isEmpty();
  }
}
