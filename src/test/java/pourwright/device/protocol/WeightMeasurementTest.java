package pourwright.device.protocol;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import pourwright.device.Bytes;
import pourwright.device.Chunk;
import pourwright.device.Decoder.Decoded;
import pourwright.reading.Stability;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * Messages built from the field tables of the Bluetooth SIG's Weight Measurement (GATT XML of
 * 2014); no example bytes are published.
 */
class WeightMeasurementTest {
  private static Decoded decode(String hex) {
    List<Decoded> out =
        new WeightMeasurement()
            .newDecoder()
            .feed(new Chunk(SessionTime.ofMillis(5), Bytes.ofHex(hex.replace(" ", ""))));
    assertThat(out).hasSize(1);
    return out.get(0);
  }

  private static Mass mass(String hex) {
    assertThat(decode(hex)).isInstanceOf(Decoded.Weighed.class);
    return ((Decoded.Weighed) decode(hex)).reading().mass();
  }

  @ParameterizedTest
  @CsvSource({
    "00 B8 0B, 15000000",
    "02 3C 00 E8 07 05 11 09 1E 0F, 300000",
    "04 B8 0B FF, 15000000",
    "0E B0 36 E8 07 05 11 09 1E 0F 01 E6 00 DE 06, 70000000"
  })
  void kilograms_come_in_steps_of_five_grams(String hex, long milligrams) {
    assertThat(mass(hex)).isEqualTo(Mass.ofMilligrams(milligrams));
  }

  @Test
  void pounds_come_in_steps_of_a_hundredth() {
    // 10 lb, by the pound of 0.45359237 kg (NIST Handbook 44, App. C)
    assertThat(mass("01 E8 03").nanograms()).isEqualTo(4_535_923_700_000L);
  }

  @ParameterizedTest
  @ValueSource(strings = {"00 B8", "02 3C 00 E8 07", "00", "00 B8 0B 00"})
  void a_message_of_the_wrong_length_is_junk(String hex) {
    assertThat(decode(hex)).isInstanceOf(Decoded.Junk.class);
  }

  @Test
  void index_and_height_come_by_one_flag() {
    assertThat(mass("08 B8 0B E6 00 DE 06")).isEqualTo(Mass.ofMilligrams(15_000_000));
    assertThat(decode("08 B8 0B E6 00")).isInstanceOf(Decoded.Junk.class);
    assertThat(decode("10 B8 0B DE 06")).isInstanceOf(Decoded.Junk.class);
  }

  @Test
  void a_failed_measurement_is_no_weight() {
    assertThat(decode("00 FF FF")).isInstanceOf(Decoded.OutOfRange.class);
  }

  @Test
  void what_is_said_is_read_again() {
    Bytes said =
        new WeightMeasurement().newEncoder().weight(Mass.ofMilligrams(265_000), Stability.STABLE);
    assertThat(mass(said.hex())).isEqualTo(Mass.ofMilligrams(265_000));
  }
}
