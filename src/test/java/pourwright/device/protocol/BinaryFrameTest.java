package pourwright.device.protocol;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import pourwright.device.Bytes;
import pourwright.device.Decoder;
import pourwright.device.Decoder.Decoded;
import pourwright.reading.Stability;
import pourwright.units.Mass;

class BinaryFrameTest {
  private static List<Decoded> decode(Profile profile, String hex) {
    return Wire.feed(profile.newDecoder(), Bytes.ofHex(hex.replace(" ", "")).toArray());
  }

  private static String only(Profile profile, String hex) {
    return Wire.outcome(decode(profile, hex).get(0));
  }

  @ParameterizedTest
  @CsvSource({
    // status, weight low byte first, battery, sum by hand
    "aa 55 01 d2 04 00 00 50 27, 12.34 g",
    "aa 55 00 2e fb ff ff 50 77, -12.34 g",
    "aa 55 02 00 00 00 00 50 52, over",
    "aa 55 04 00 00 00 00 50 54, under",
    "aa 55 01 d2 04 00 00 50 28, the check is wrong",
  })
  void the_frame_with_a_sum_is_read(String hex, String outcome) {
    assertThat(only(Wire.shipped("binary-sum"), hex + "aa".repeat(70))).isEqualTo(outcome);
  }

  @Test
  void the_battery_is_told_when_it_changes_and_a_nonsense_level_is_not() {
    Decoder decoder = Wire.shipped("binary-sum").newDecoder();
    byte[] eighty = Bytes.ofHex("aa5501d20400005027").toArray();
    byte[] seventyNine = Bytes.ofHex("aa5501d20400004f26").toArray();
    byte[] nonsense = Bytes.ofHex("aa5501d2040000c89f").toArray();
    assertThat(Wire.feed(decoder, eighty))
        .hasSize(2)
        .last()
        .isEqualTo(new Decoded.Told(Wire.NOON, OptionalInt.of(80)));
    assertThat(Wire.feed(decoder, eighty)).hasSize(1);
    assertThat(Wire.feed(decoder, seventyNine)).hasSize(2);
    assertThat(Wire.outcomes(Wire.feed(decoder, nonsense))).containsExactly("12.34 g");
  }

  @Test
  void a_unit_code_a_sign_apart_and_a_message_kind_are_read() {
    Profile profile = Wire.shipped("binary-crc");
    Encoder encoder = profile.newEncoder();
    Bytes said = encoder.weight(Mass.ofMilligrams(-12_300), Stability.MOVING);
    assertThat(said.toString()).startsWith("a5 5a 01 80 00 00 00 7b");
    assertThat(only(profile, said.hex())).isEqualTo("-12.3 g");
    assertThat(only(profile, sealed("a55a01010100007b"))).isEqualTo("3.486991344 g");
    assertThat(only(profile, sealed("a55a01010200007b"))).isEqualTo("5.579186151 g");
    assertThat(only(profile, sealed("a55a01010700007b") + "00".repeat(64)))
        .isEqualTo("an unknown unit");
    assertThat(only(profile, sealed("a55a02010000007b") + "00".repeat(64)))
        .isEqualTo("another kind of frame");
  }

  private static String sealed(String hex) {
    byte[] bytes = Bytes.ofHex(hex).toArray();
    int crc = Checksum.CRC_16_MODBUS.of(bytes, 0, bytes.length);
    return hex + String.format("%02x%02x", crc & 0xff, crc >> 8);
  }

  @ParameterizedTest
  @CsvSource({
    "8, none, big, ff, 255",
    "8, twos, big, ff, -1",
    "8, top-bit, big, 81, -1",
    "16, none, big, 0102, 258",
    "16, none, little, 0102, 513",
    "16, twos, little, feff, -2",
    "16, top-bit, big, 8102, -258",
    "24, twos, big, fffffe, -2",
    "24, none, little, 010000, 1",
    "32, twos, big, 80000000, -2147483648",
    "32, none, big, ffffffff, 4294967295",
    "32, top-bit, little, 01000080, -1",
  })
  void integers_of_every_width_sign_and_order_are_read_and_written(
      int bits, String sign, String order, String hex, long grams) {
    Profile profile =
        Wire.profile(
            "binary:",
            "  header: 5b",
            "  length: " + (bits / 8 + 2),
            "  weight: {at: 1, bits: " + bits + ", sign: " + sign + ", order: " + order + "}",
            "  step: 1 g",
            "  check: {kind: xor, at: " + (bits / 8 + 1) + "}");
    Bytes said = profile.newEncoder().weight(Mass.ofMilligrams(grams * 1000), Stability.UNSTATED);
    assertThat(said.hex()).startsWith("5b" + hex);
    Decoded decoded = decode(profile, said.hex()).get(0);
    assertThat(Wire.outcome(decoded)).isEqualTo(grams + " g");
    assertThat(((Decoded.Weighed) decoded).reading().stability()).isEqualTo(Stability.UNSTATED);
  }

  @Test
  void an_exponent_byte_moves_the_point() {
    Profile profile =
        Wire.profile(
            "binary: {header: 5b, length: 5, weight: {at: 1, bits: 16}, step: 1 g,"
                + " exponent: {at: 3}, check: {kind: sum, at: 4}}");
    assertThat(only(profile, "5b 01 2c ff 87")).isEqualTo("30 g");
    assertThat(only(profile, "5b 01 2c 01 89")).isEqualTo("3000 g");
    assertThat(only(profile, "5b 01 2c f0 78" + "00".repeat(64)))
        .isEqualTo("a power of ten that no scale has");
  }

  @Test
  void a_frame_without_a_check_counts_only_when_another_follows() {
    Profile profile =
        Wire.profile("binary: {header: a1 b2, length: 4, weight: {at: 2, bits: 16}, step: 0.1 g}");
    Decoder decoder = profile.newDecoder();
    assertThat(Wire.feed(decoder, Bytes.ofHex("00a1b2007b").toArray())).isEmpty();
    assertThat(Wire.outcomes(Wire.feed(decoder, Bytes.ofHex("a1b2007c").toArray())))
        .containsExactly("no frame begins here", "12.3 g", "12.4 g");
  }

  @Test
  void a_mass_beyond_reach_is_junk_and_one_without_room_is_not_written() {
    Profile profile =
        Wire.profile(
            "binary: {header: 5b, length: 6, weight: {at: 1, bits: 32}, step: 999999 kg,"
                + " check: {kind: sum, at: 5}}");
    assertThat(only(profile, "5b 7f ff ff ff d7" + "00".repeat(64)))
        .isEqualTo("a mass beyond reach");
    assertThatThrownBy(
            () ->
                Wire.shipped("binary-crc")
                    .newEncoder()
                    .weight(Mass.ofMilligrams(3_000_000_000L), Stability.STABLE))
        .isInstanceOf(ArithmeticException.class)
        .hasMessageContaining("no room in 3 bytes");
  }

  @Test
  void garbage_between_headers_does_not_hide_a_frame() {
    assertThat(Wire.outcomes(decode(Wire.shipped("binary-sum"), "aaaa55aa5501d20400005027")))
        .startsWith("the check is wrong", "12.34 g");
  }
}
