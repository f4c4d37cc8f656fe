package pourwright.device.protocol;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import pourwright.device.Bytes;
import pourwright.device.LineSettings;
import pourwright.device.LineSettings.FlowControl;
import pourwright.device.LineSettings.Parity;
import pourwright.device.ScaleCommands;

class ProfileReaderTest {
  private static final String HEAD = "format: 1\nname: mine\nabout: my scale\n";

  @Test
  void a_profile_states_its_link_and_commands() throws InvalidProfileException {
    Profile profile =
        ProfileReader.read(
            HEAD
                + "link: {baud: 4800, bits: 7, parity: even, stop: 2, flow: xon-xoff}\n"
                + "text: {pattern: '{number}', unit: g}\n"
                + "commands:\n  start: {text: \"GO\\r\"}\n  tare: {hex: 54 0d}\n",
            "mine.yaml");
    assertThat(profile.link())
        .isEqualTo(new LineSettings(4800, 7, Parity.EVEN, 2, FlowControl.XON_XOFF));
    assertThat(profile.commands())
        .isEqualTo(
            new ScaleCommands(
                Optional.of(Bytes.ofAscii("GO\r")),
                Optional.of(Bytes.ofHex("540d")),
                Optional.empty()));
  }

  @Test
  void what_a_profile_leaves_out_is_the_usual() throws InvalidProfileException {
    Profile profile = ProfileReader.read(HEAD + "text: {pattern: '{number}', unit: g}\n", "m");
    assertThat(profile.link()).isEqualTo(LineSettings.COMMON);
    assertThat(profile.commands()).isEqualTo(ScaleCommands.NONE);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '"',
      value = {
        "text: {patern: '{number}'}|4:8: unknown key 'patern'; did you mean 'pattern'?",
        "text: {zzzzzz: 1}|4:8: unknown key 'zzzzzz'; known here: decimal, end, over",
        "text: {unit: g}|4:7: 'pattern' is missing in text",
        "text: {pattern: '{number', unit: g}|4:17: '{' without '}' in the pattern",
        "text: {pattern: 'number}', unit: g}|4:17: '}' without '{' in the pattern",
        "text: {pattern: 'x', unit: g}|4:17: a pattern holds {number} exactly once, this one 0",
        "text: {pattern: '{number}{number}'}|4:17: a pattern holds {number} exactly once",
        "text: {pattern: '{nummer}'}|4:17: no field {nummer}; there are {number}, {sign}",
        "text: {pattern: '{sign:2}{number}'}|4:17: {sign} takes nothing",
        "text: {pattern: '{skip}{number}'}|4:17: a width is a number from 1 to 99, as in {skip:3}",
        "text: {pattern: '{number:.22}'}|4:17: decimals are one digit",
        "text: {pattern: '{number:x}'}|4:17: a width is a number from 1 to 99",
        "text: {pattern: '{number}é', unit: g}|4:17: a pattern holds printable ASCII",
        "text: {pattern: []}|4:17: 'pattern' should be a pattern or a list",
        "text: {pattern: '{number}', unit: stone}|4:35: 'unit' should be one of g, gr, kg, lb, mg, oz, not 'stone'",
        "text: {pattern: '{number}', units: {'': g}}|4:41: a unit word holds",
        "text: {pattern: '{number}', over: ['']}|4:36: a mark holds",
        "text: {pattern: '{number}', over: OL}|4:35: 'over' should be a list",
        "text: {pattern: '{number}', words: {s: {S: calm}}}|4:44: 'S' should be one of gross, moving",
        "text: [1]|4:7: 'text' should be a section",
        "text: {pattern: {a: b}}|4:17: 'pattern' should be one value",
        "link: {baud: 9.6}|4:14: 'baud' should be a whole number from 50 to 4000000, not '9.6'",
        "link: {bits: 9}|4:14: 'bits' should be a whole number from 5 to 8, not '9'",
        "link: {parity: weird}|4:16: 'parity' should be one of even, mark, none, odd, space, not",
        "link: {baud: 300, baud: 300}|4:19: 'baud' is given twice",
        "commands: {tare: {hex: xy}}|a profile has exactly one of text, frame, binary and standard",
        "about: again|4:1: 'about' is given twice",
        "text: {pattern: '{number}'|no YAML",
        "binary: {header: zz}|4:18: 'header' should be bytes in hexadecimal",
      })
  void every_fault_is_told_with_its_place_and_what_would_be_right(String line, String message) {
    String shape = line.startsWith("link") ? "\ntext: {pattern: '{number}'}\n" : "\n";
    assertThatThrownBy(() -> ProfileReader.read(HEAD + line + shape, "mine.yaml"))
        .isInstanceOf(InvalidProfileException.class)
        .hasMessageStartingWith("mine.yaml:")
        .hasMessageContaining(message);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '"',
      value = {
        "start: 02, width: 5, pattern: '{number}', unit: g|where widths are exact the number has one",
        "start: '', width: 5, pattern: '{number:5.1}', unit: g|'start' holds at least one byte",
        "start: 02, width: 99, pattern: '{number:5.1}', unit: g|'width' should be a whole number from 1 to 64",
        "start: 02, width: 5, pattern: '{number:5.1}', check: {kind: xor, covers: text+end, place: before-end}|cannot cover it",
        "start: 02, width: 5, pattern: '{number:5.1}', check: {kind: xor, covers: all}|'covers' should be one of",
        "start: 02, width: 5, pattern: '{number:5.1}', check: {kind: crc-99, covers: text}|'kind' should be one of",
      })
  void faults_of_frames_are_told(String parts, String message) {
    assertThatThrownBy(() -> ProfileReader.read(HEAD + "frame: {" + parts + "}\n", "mine.yaml"))
        .isInstanceOf(InvalidProfileException.class)
        .hasMessageContaining(message);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '"',
      value = {
        "header: '', length: 5|'header' holds at least one byte",
        "header: aabb, length: 2|fewer than 'length'",
        "header: aa, length: 5, weight: {at: 1, bits: 16}|either 'step' (as in 0.01 g) or 'unit'",
        "header: aa, length: 5, step: 1 g, weight: {at: 4, bits: 16}|'at' should be a whole number from 0 to 3",
        "header: aa, length: 5, step: 1 g, weight: {at: 1, bits: 12}|'bits' should be one of 16, 24, 32, 8",
        "header: aa, length: 5, step: 0 g, weight: {at: 1, bits: 16}|a step is a number above 0 and a unit",
        "header: aa, length: 5, step: 1 pood, weight: {at: 1, bits: 16}|a step is a number above 0 and a unit",
        "header: aa, length: 5, unit: {at: 1, steps: {x: 1 g}}, weight: {at: 1, bits: 16}|should be a code within the mask",
        "header: aa, length: 5, unit: {at: 1, mask: 1, steps: {2: 1 g}}, weight: {at: 1, bits: 16}|should be a code within the mask",
        "header: aa, length: 5, unit: {at: 1, steps: {}}, weight: {at: 1, bits: 16}|'steps' names no unit",
        "header: aa, length: 5, step: 1 g, weight: {at: 1, bits: 16}, stable: {at: 3, mask: 1, is: 2}|'is' has bits that 'mask' leaves out",
        "header: aa, length: 5, step: 1 g, weight: {at: 1, bits: 16}, check: {kind: sum, at: 3, from: 0, to: 5}|a check cannot cover itself",
      })
  void faults_of_binary_frames_are_told(String parts, String message) {
    assertThatThrownBy(() -> ProfileReader.read(HEAD + "binary: {" + parts + "}\n", "mine.yaml"))
        .isInstanceOf(InvalidProfileException.class)
        .hasMessageContaining(message);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '"',
      value = {
        "tare: {text: T, hex: 54}|'tare' should be either",
        "tare: {}|'tare' should be either",
        "tare: {text: ''}|'tare' sends nothing",
        "tare: {text: 'é'}|a command's text holds ASCII only",
        "print: {text: P}|unknown key 'print'",
      })
  void faults_of_commands_are_told(String command, String message) {
    assertThatThrownBy(
            () ->
                ProfileReader.read(
                    HEAD + "text: {pattern: '{number}'}\ncommands: {" + command + "}\n", "m"))
        .isInstanceOf(InvalidProfileException.class)
        .hasMessageContaining(message);
  }

  @Test
  void an_empty_file_and_another_format_are_refused() {
    assertThatThrownBy(() -> ProfileReader.read("", "mine.yaml"))
        .hasMessage("mine.yaml: the profile is empty");
    assertThatThrownBy(() -> ProfileReader.read("format: 2\n", "mine.yaml"))
        .hasMessageContaining("mine.yaml:1:9: 'format' should be a whole number from 1 to 1");
  }
}
