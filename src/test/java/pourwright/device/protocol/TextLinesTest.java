package pourwright.device.protocol;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import pourwright.device.Bytes;
import pourwright.device.Decoder;
import pourwright.device.Decoder.Decoded;
import pourwright.reading.Stability;
import pourwright.units.Mass;

class TextLinesTest {
  @ParameterizedTest
  @CsvSource(
      quoteCharacter = '"',
      value = {
        "12.3,12.3 g",
        "  12.30  ,12.3 g",
        "+12.3,12.3 g",
        "- 0.5,-0.5 g",
        "-0.0,0 g",
        ".5,0.5 g",
        "\"7,25\",7.25 g",
        "0007,7 g",
        "123456.123456789,123456.123456789 g",
        "OL,over",
        "   OL,over",
        "OVER,over",
        "------,over",
        "-OL,under",
        "UL,under",
        "12.,no digit after the decimal mark",
        "1.2.3,something follows the weight",
        "12.3 g,something follows the weight",
        "--5,no number",
        "+-5,no number",
        "NaN,no number",
        "inf,no number",
        "1e5,something follows the weight",
        "-,no number",
        ".,no number",
        "1234567890123456,more digits than a scale has",
        "0.1234567891,more digits than a scale has",
        "999999999999999,a mass beyond reach",
        "x12.3,no number",
        "00?3,something follows the weight",
      })
  void a_bare_number_is_read_or_refused(String line, String outcome) {
    assertThat(Wire.outcome(Wire.line(Wire.shipped("bare-number"), line))).isEqualTo(outcome);
  }

  /** Exact factors: NIST Handbook 44, Appendix C. */
  @ParameterizedTest
  @CsvSource({
    "12.3 g,12.3 g",
    "12.3g,12.3 g",
    "12.3 G,12.3 g",
    "0.0123 kg,12.3 g",
    "12300 mg,12.3 g",
    "1 oz,28.349523125 g",
    "1.5oz,42.524284688 g",
    "1 lb,453.59237 g",
    "1 lbs,453.59237 g",
    "7000 gr,453.59237 g",
    "100 GN,6.479891 g",
    "12.3,12.3 g",
    "12.3 st,something follows the weight",
    "12.3 ozt,something follows the weight",
    "12.3 g g,something follows the weight",
    "OL g,over",
  })
  void every_unit_counts_by_its_exact_size(String line, String outcome) {
    assertThat(Wire.outcome(Wire.line(Wire.shipped("number-unit"), line))).isEqualTo(outcome);
  }

  @Test
  void a_unit_that_changes_in_mid_stream_changes_only_what_is_sent_in_it() {
    Decoder decoder = Wire.shipped("number-unit").newDecoder();
    assertThat(Wire.outcomes(Wire.feed(decoder, "\n 10.0 g\r\n 1 oz\r\n 10.1 g\r\n")))
        .containsExactly("10 g", "28.349523125 g", "10.1 g");
  }

  @Test
  void a_number_without_a_unit_is_refused_where_the_profile_names_none() {
    Profile strict = Wire.profile("text: {pattern: '{number} {unit}'}");
    assertThat(Wire.outcome(Wire.line(strict, "12.3"))).isEqualTo("no known unit");
    assertThat(Wire.outcome(Wire.line(strict, "12.3 g"))).isEqualTo("12.3 g");
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "ST,GS,+0012.3 g|12.3 g|STABLE",
        "US,NT,-0000.4 g|-0.4 g|MOVING",
        "ST,NT,     1.5kg|1500 g|STABLE",
        "OL,GS,+9999.9 g|over|",
        "UL,GS,-9999.9 g|under|",
        "ST,GS,------ g|over|",
        "ST,TR,+0100.0 g|told|",
        "SX,GS,+0012.3 g|an unknown status word|",
        "ST;GS,+0012.3 g|',' is missing|",
        "ST,GS,|no number|",
        "ST,GS|',' is missing|",
      })
  void status_words_between_commas_are_understood(String line, String outcome, String stability) {
    Decoded decoded = Wire.line(Wire.shipped("status-comma"), line);
    assertThat(Wire.outcome(decoded)).isEqualTo(outcome);
    if (decoded instanceof Decoded.Weighed weighed) {
      assertThat(weighed.reading().stability()).isEqualTo(Stability.valueOf(stability));
    }
  }

  @Test
  void a_status_letter_may_lack_and_then_means_what_the_profile_says() {
    Profile profile =
        Wire.profile(
            "text: {pattern: '{number} g {s}', unit: g, words: {s: {S: stable, '': moving}}}");
    assertThat(((Decoded.Weighed) Wire.line(profile, "1.5 g")).reading().stability())
        .isEqualTo(Stability.MOVING);
    assertThat(((Decoded.Weighed) Wire.line(profile, "1.5 g S")).reading().stability())
        .isEqualTo(Stability.STABLE);
  }

  @Test
  void the_beginning_of_a_stream_is_not_believed_until_a_line_has_ended() {
    Decoder decoder = Wire.shipped("bare-number").newDecoder();
    assertThat(Wire.outcomes(Wire.feed(decoder, "2.5\r\n12.5\r\n")))
        .containsExactly("the beginning of this line was missed", "12.5 g");
  }

  @Test
  void cr_lf_and_both_end_a_line_and_empty_lines_say_nothing() {
    Decoder decoder = Wire.shipped("bare-number").newDecoder();
    assertThat(Wire.outcomes(Wire.feed(decoder, "\r1\r2\n3\r\n\r\n\n4\n\r")))
        .containsExactly("1 g", "2 g", "3 g", "4 g");
  }

  @Test
  void a_line_without_end_is_given_up_in_pieces_and_its_rest_is_no_line() {
    Decoder decoder = Wire.shipped("bare-number").newDecoder();
    String rest = "x".repeat(90);
    assertThat(Wire.outcomes(Wire.feed(decoder, "\n" + " ".repeat(96) + "12.5\n" + rest + "\n1\n")))
        .containsExactly(
            "longer than any line", "the beginning of this line was missed", "no number", "1 g");
    assertThat(((StreamDecoder) decoder).waiting()).isZero();
  }

  @Test
  void junk_holds_the_bytes_that_were_sent_with_their_line_end() {
    Decoded junk = Wire.line(Wire.shipped("bare-number"), "+00?");
    assertThat(junk).isInstanceOf(Decoded.Junk.class);
    assertThat(((Decoded.Junk) junk).skipped()).hasToString("2b 30 30 3f 0d");
  }

  @Test
  void a_sign_after_the_number_or_apart_from_it_is_read_and_written() {
    Profile after = Wire.profile("text: {pattern: '{number:6.1}{sign}', unit: g}");
    assertThat(Wire.outcome(Wire.line(after, "12.5-"))).isEqualTo("-12.5 g");
    assertThat(Wire.outcome(Wire.line(after, "12.5"))).isEqualTo("12.5 g");
    assertThat(Wire.outcome(Wire.line(after, "-12.5-"))).isEqualTo("two signs");
    assertThat(written(after, -3_000)).isEqualTo("   3.0-\r\n");
    Profile apart =
        Wire.profile("text: {pattern: '{sign}|{number:.1}', unit: g, decimal: comma, end: lf}");
    assertThat(written(apart, -3_210)).isEqualTo("-|3,2\n");
    assertThat(Wire.outcome(Wire.line(apart, "-|3,2"))).isEqualTo("-3.2 g");
    assertThat(Wire.outcome(Wire.line(apart, "-|-3,2"))).isEqualTo("two signs");
    assertThat(Wire.outcome(Wire.line(apart, "-|3.2"))).isEqualTo("something follows the weight");
  }

  @Test
  void of_several_patterns_the_first_that_fits_reads_the_line() {
    Profile profile =
        Wire.profile(
            "text: {pattern: ['W{number}', 'N{skip:2}:{number} {unit}', '{{{number}}}'], unit: g}");
    assertThat(Wire.outcome(Wire.line(profile, "W1"))).isEqualTo("1 g");
    assertThat(Wire.outcome(Wire.line(profile, "N07:2 kg"))).isEqualTo("2000 g");
    assertThat(Wire.outcome(Wire.line(profile, "{3}"))).isEqualTo("3 g");
    assertThat(Wire.outcome(Wire.line(profile, "N7"))).isEqualTo("'{' is missing");
    assertThat(Wire.outcome(Wire.line(profile, "N\u00017:2"))).isEqualTo("'{' is missing");
  }

  @Test
  void where_widths_are_exact_a_lost_digit_is_noticed() {
    Profile exact =
        Wire.profile("text: {pattern: 'W{number:8.2}{unit:2}', unit: g, widths: exact}");
    assertThat(Wire.outcome(Wire.line(exact, "W   12.34g "))).isEqualTo("12.34 g");
    assertThat(Wire.outcome(Wire.line(exact, "W-0012.34kg"))).isEqualTo("-12340 g");
    assertThat(Wire.outcome(Wire.line(exact, "W   12.34  "))).isEqualTo("12.34 g");
    assertThat(Wire.outcome(Wire.line(exact, "W   2.34g "))).isEqualTo("no number");
    assertThat(Wire.outcome(Wire.line(exact, "W  1.34"))).isEqualTo("the line is too short");
    assertThat(Wire.outcome(Wire.line(exact, "W   12.34"))).isEqualTo("no known unit");
    assertThat(written(exact, -12_340)).isEqualTo("W  -12.34g \r\n");
  }

  @Test
  void status_words_are_written_for_what_is_known_of_the_weight() {
    Profile profile =
        Wire.profile(
            "text:",
            "  pattern: '{range}{calm}{kind}{number}'",
            "  unit: g",
            "  words:",
            "    range: {'.': other, '^': over, v: under}",
            "    calm: {m: moving}",
            "    kind: {n: net, g: gross}");
    Encoder encoder = profile.newEncoder();
    Mass mass = Mass.ofMilligrams(1_000);
    assertThat(encoder.weight(mass, Stability.MOVING)).isEqualTo(Bytes.ofAscii("mn1.0\r\n"));
    // A table without the wanted word gives the nearest that says nothing wrong about the number.
    assertThat(encoder.weight(mass, Stability.STABLE)).isEqualTo(Bytes.ofAscii("mn1.0\r\n"));
    assertThat(encoder.outOfRange(true)).contains(Bytes.ofAscii("^mn\r\n"));
    assertThat(encoder.outOfRange(false)).contains(Bytes.ofAscii("vmn\r\n"));
  }

  @Test
  void a_blank_may_stand_for_a_plus_and_a_sign_of_its_own_is_written() {
    Profile profile = Wire.profile("text: {pattern: '{sign}{number:.1}', unit: g, widths: least}");
    assertThat(Wire.outcome(Wire.line(profile, "5"))).isEqualTo("5 g");
    assertThat(Wire.outcome(Wire.line(profile, "+5"))).isEqualTo("5 g");
    assertThat(Wire.outcome(Wire.line(profile, "-5"))).isEqualTo("-5 g");
    assertThat(written(profile, 5_000)).isEqualTo("+5.0\r\n");
    assertThat(written(profile, -5_000)).isEqualTo("-5.0\r\n");
    Profile after = Wire.profile("text: {pattern: '{number:.1}{sign}|', unit: g}");
    assertThat(Wire.outcome(Wire.line(after, "5 |"))).isEqualTo("5 g");
    assertThat(Wire.outcome(Wire.line(after, "5+|"))).isEqualTo("5 g");
    assertThat(Wire.outcome(Wire.line(after, "5  |"))).isEqualTo("'|' is missing");
    assertThat(Wire.outcome(Wire.line(after, "5"))).isEqualTo("'|' is missing");
  }

  @Test
  void a_point_only_profile_takes_no_comma() {
    Profile profile = Wire.profile("text: {pattern: '{number}', unit: g, decimal: point}");
    assertThat(Wire.outcome(Wire.line(profile, "1,5"))).isEqualTo("something follows the weight");
    assertThat(Wire.outcome(Wire.line(profile, "1.5"))).isEqualTo("1.5 g");
  }

  @Test
  void lines_are_written_as_the_profile_lays_them_out() {
    assertThat(written(Wire.shipped("bare-number"), -12_345)).isEqualTo("-12.34\r\n");
    assertThat(written(Wire.shipped("number-unit"), 12_300)).isEqualTo("    12.3 g\r\n");
    assertThat(written(Wire.shipped("status-comma"), 12_300)).isEqualTo("ST,GS,+0012.3 g\r\n");
    assertThat(written(Wire.shipped("status-letter"), -12_340)).isEqualTo("S    -12.34 g\r\n");
    Encoder encoder = Wire.shipped("status-comma").newEncoder();
    assertThat(new String(encoder.outOfRange(false).orElseThrow().toArray(), Recogniser.WIRE))
        .isEqualTo("UL,GS,        g\r\n");
    assertThat(Wire.profile("text: {pattern: '{number}', unit: g}").newEncoder().outOfRange(true))
        .isEmpty();
  }

  private static String written(Profile profile, long milligrams) {
    return new String(
        profile.newEncoder().weight(Mass.ofMilligrams(milligrams), Stability.UNSTATED).toArray(),
        Recogniser.WIRE);
  }

  @Test
  void a_decoder_that_never_hears_a_line_end_keeps_little() {
    StreamDecoder decoder = (StreamDecoder) Wire.shipped("number-unit").newDecoder();
    byte[] flood = new byte[10_000];
    Wire.feed(decoder, flood);
    assertThat(decoder.waiting()).isLessThan(TextDecoder.LONGEST_LINE);
  }
}
