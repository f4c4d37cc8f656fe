package pourwright.device.ble;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.HexFormat;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import pourwright.device.Bytes;

/** Values made from the table of the Bluetooth SIG's Weight Scale Feature; none are published. */
class WeightScaleFeatureTest {
  private static WeightScaleFeature feature(String hex) {
    return WeightScaleFeature.of(Bytes.copyOf(HexFormat.of().parseHex(hex))).orElseThrow();
  }

  @Test
  void a_scale_that_has_everything() {
    WeightScaleFeature all = new WeightScaleFeature(true, true, true, OptionalInt.of(5));
    assertThat(feature("3f000000")).isEqualTo(all);
    assertThat(feature("bf010000")).isEqualTo(all); // with a step of the height
  }

  @Test
  void a_scale_that_says_nothing() {
    assertThat(feature("00000000"))
        .isEqualTo(new WeightScaleFeature(false, false, false, OptionalInt.empty()));
  }

  @ParameterizedTest
  @CsvSource({
    "08000000,500",
    "10000000,200",
    "18000000,100",
    "20000000,50",
    "28000000,20",
    "30000000,10",
    "38000000,5"
  })
  void each_code_has_its_step(String hex, int grams) {
    assertThat(feature(hex).stepGrams()).hasValue(grams);
  }

  @Test
  void a_reserved_code_is_no_step() {
    assertThat(feature("40000000").stepGrams()).isEmpty();
  }

  @Test
  void a_value_cut_short_says_nothing() {
    assertThat(WeightScaleFeature.of(Bytes.copyOf(new byte[] {0x3f, 0, 0}))).isEmpty();
  }
}
