package pourwright.device.protocol;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import pourwright.device.Bytes;
import pourwright.device.Decoder;
import pourwright.reading.Stability;
import pourwright.units.Mass;

class ControlFrameTest {
  private static final Profile SHIPPED = Wire.shipped("control-frame");

  /** The frame of ten characters, with its check worked out here. */
  private static String frame(String text) {
    int check = 3;
    for (int i = 0; i < text.length(); i++) {
      check ^= text.charAt(i);
    }
    return "\u0002" + text + "\u0003" + (char) check;
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '"',
      value = {
        "\"S  12.34g \"|12.34 g",
        "\"M -12.34g \"|-12.34 g",
        "\"S- 12.3 kg\"|-12300 g",
        "\"S0012.34 g\"|12.34 g",
        "\"O       g \"|over",
        "\"U-999999xx\"|under",
      })
  void ten_characters_between_control_bytes_are_a_weight(String text, String outcome) {
    assertThat(Wire.outcomes(Wire.feed(SHIPPED.newDecoder(), frame(text))))
        .containsExactly(outcome);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '"',
      value = {
        "\"X  12.34g \"|an unknown status word",
        "\"S  12.3 xg\"|no known unit",
        "\"S  12.34  \"|no known unit",
        "\"S12 34  g \"|no number",
        "\"S       g \"|no number",
        "\"S12.345678\"|no known unit",
      })
  void a_right_check_does_not_make_a_weight_of_other_text(String text, String why) {
    Decoder decoder = SHIPPED.newDecoder();
    assertThat(Wire.outcomes(Wire.feed(decoder, frame(text) + frame("S   1.00g "))))
        .containsExactly(why, "1 g");
  }

  @Test
  void a_wrong_check_is_junk_and_the_next_frame_is_read() {
    Decoder decoder = SHIPPED.newDecoder();
    String bad = frame("S  12.34g ").replace("12.34", "12.35");
    assertThat(Wire.outcomes(Wire.feed(decoder, bad + frame("S   1.00g "))))
        .containsExactly("the check byte is wrong", "1 g");
  }

  @Test
  void a_frame_that_lost_a_byte_does_not_eat_the_next() {
    Decoder decoder = SHIPPED.newDecoder();
    String lost = frame("S  12.34g ").replace("12.34", "1.34");
    assertThat(Wire.outcomes(Wire.feed(decoder, lost + frame("S   1.00g ") + frame("S   2.00g "))))
        .containsExactly("the frame does not end where it should", "1 g", "2 g");
  }

  @Test
  void the_tail_of_an_endless_stream_is_bounded_and_junk_comes_in_pieces() {
    StreamDecoder decoder = (StreamDecoder) SHIPPED.newDecoder();
    assertThat(Wire.outcomes(Wire.feed(decoder, "x".repeat(200))))
        .hasSize(3)
        .containsOnly("no frame begins here");
    assertThat(decoder.waiting()).isLessThan(FrameDecoder.LONGEST_JUNK);
  }

  @Test
  void a_check_may_be_two_digits_before_the_end_and_cover_the_start() {
    Profile profile =
        Wire.profile(
            "frame:",
            "  start: 01",
            "  width: 6",
            "  pattern: '{number:+06.1}'",
            "  unit: g",
            "  end: '04'",
            "  tail: 0d 0a",
            "  check: {kind: sum-twos, covers: start+text, place: before-end, form: hex}");
    Bytes said = profile.newEncoder().weight(Mass.ofMilligrams(-12_300), Stability.STABLE);
    // 01 '-' '0' '1' '2' '.' '3' sums to 0x122; its two's complement is 0xDE.
    assertThat(said).hasToString("01 2d 30 31 32 2e 33 44 45 04 0d 0a");
    assertThat(Wire.outcomes(Wire.feed(profile.newDecoder(), said.toArray())))
        .containsExactly("-12.3 g");
    String small = "\u0001-012.3de\u0004\r\n";
    assertThat(Wire.outcomes(Wire.feed(profile.newDecoder(), small))).containsExactly("-12.3 g");
    String wrong = "\u0001-012.3DF\u0004\r\n";
    assertThat(Wire.outcomes(Wire.feed(profile.newDecoder(), wrong + small)))
        .containsExactly("the check byte is wrong", "-12.3 g");
  }

  @Test
  void a_frame_without_any_check_counts_only_when_the_next_one_follows() {
    Profile profile =
        Wire.profile("frame: {start: '3d', width: 6, pattern: '{number:6.1}', unit: g}");
    Decoder decoder = profile.newDecoder();
    assertThat(Wire.outcomes(Wire.feed(decoder, "2.5=  12.5"))).isEmpty();
    assertThat(Wire.outcomes(Wire.feed(decoder, "=")))
        .containsExactly("no frame begins here", "12.5 g");
    assertThat(Wire.outcomes(Wire.feed(decoder, "  12.6"))).containsExactly("12.6 g");
    assertThat(Wire.outcomes(Wire.feed(decoder, "x=  12.7x=  12.8=")))
        .containsExactly("not followed by another frame", "12.8 g");
  }

  @Test
  void a_mass_that_has_no_room_is_not_written() {
    assertThatThrownBy(
            () -> SHIPPED.newEncoder().weight(Mass.ofMilligrams(99_999_990), Stability.STABLE))
        .isInstanceOf(ArithmeticException.class)
        .hasMessageContaining("no room in 7 characters");
  }
}
