package pourwright.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Objects;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import picocli.CommandLine;

class HelpTest {
  private static String help(String... command) {
    CommandLine line = Main.wholeProgram();
    for (String word : command) {
      line = Objects.requireNonNull(line.getSubcommands().get(word));
    }
    return line.getUsageMessage();
  }

  @ParameterizedTest
  @ValueSource(strings = {"rehearse", "check-scale"})
  void a_command_that_listens_to_scales_can_be_told_which_radio(String command) {
    assertThat(help(command)).contains("--radio", "--ble-backend");
  }

  @Test
  void a_demo_that_needs_no_radio_offers_none() {
    assertThat(help("demo")).contains("--sound").doesNotContain("--radio", "--ble-backend");
  }
}
