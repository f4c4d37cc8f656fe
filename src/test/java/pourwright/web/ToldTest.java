package pourwright.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import pourwright.session.Command;
import pourwright.units.Mass;

class ToldTest {
  @Test
  void every_command_is_understood() throws BadMessage {
    assertThat(Told.command("{\"do\":\"void\"}")).isEqualTo(new Command.VoidRun());
    assertThat(Told.command("{\"do\":\"stop\"}")).isEqualTo(new Command.Stop());
    assertThat(Told.command("{\"do\":\"tare\",\"lane\":2}")).isEqualTo(new Command.Tare(2));
    assertThat(Told.command("{\"do\":\"drained\",\"lane\":1}"))
        .isEqualTo(new Command.MarkDrained(1));
    assertThat(Told.command("{\"do\":\"scale_under\",\"lane\":2}"))
        .isEqualTo(new Command.ScaleIsUnder(2));
    assertThat(Told.command("{\"do\":\"estimate\",\"lane\":1,\"pour\":3,\"poured_g\":61.5}"))
        .isEqualTo(new Command.Estimate(1, 3, Mass.ofMilligrams(61_500)));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "''|A JSON object is needed.",
        "[]|A JSON object is needed.",
        "{\"do\":1}|\"do\" is needed, as text.",
        "{\"do\":\"fly\"}|\"do\" must be one of void, stop, tare, drained, scale_under, estimate; not \"fly\".",
        "{\"do\":\"tare\"}|\"lane\" is needed, as a number.",
        "{\"do\":\"tare\",\"lane\":1.5}|\"lane\" must be a whole number.",
        "{\"do\":\"tare\",\"lane\":0}|\"lane\" must lie between 1.0 and 64.0.",
        "{\"do\":\"tare\",\"lane\":\"1\"}|\"lane\" is needed, as a number.",
        "{\"do\":\"scale_under\"}|\"lane\" is needed, as a number.",
        "{\"do\":\"scale_under\",\"lane\":65}|\"lane\" must lie between 1.0 and 64.0.",
        "{\"do\":\"void\",\"lane\":1}|Unknown field \"lane\".",
        "{\"do\":\"estimate\",\"lane\":1,\"pour\":1,\"poured_g\":-1}"
            + "|\"poured_g\" must lie between 0.0 and 5000.0."
      })
  void a_message_that_makes_no_sense_is_refused_in_words(String text, String why) {
    assertThatExceptionOfType(BadMessage.class)
        .isThrownBy(() -> Told.command(text))
        .withMessage(why);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "{|x",
        "{\"do\":\"void\"} {}|x",
        "{\"do\":\"void\",\"do\":\"stop\"}|x",
        "{\"do\":\"tare\",\"lane\":NaN}|x",
        "{\"a\":{\"a\":{\"a\":{\"a\":{\"a\":{\"a\":{\"a\":{\"a\":{\"a\":1}}}}}}}}}|x"
      })
  void what_is_no_plain_json_is_refused(String text, String ignored) {
    assertThatExceptionOfType(BadMessage.class)
        .isThrownBy(() -> Told.command(text))
        .withMessageStartingWith("This is no JSON: ");
  }

  @Test
  void no_garbage_brings_it_down() {
    Random random = new Random(11);
    String good = "{\"do\":\"estimate\",\"lane\":1,\"pour\":3,\"poured_g\":61.5}";
    for (int i = 0; i < 20_000; i++) {
      StringBuilder text = new StringBuilder(good);
      for (int change = random.nextInt(1, 5); change > 0; change--) {
        text.setCharAt(random.nextInt(text.length()), (char) random.nextInt(1, 0x250));
      }
      try {
        Told.command(text.toString());
      } catch (BadMessage told) {
        assertThat(told.getMessage()).isNotBlank();
      }
    }
  }
}
