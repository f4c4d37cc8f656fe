package pourwright.device;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.junit.jupiter.api.Test;
import pourwright.device.LineSettings.FlowControl;
import pourwright.device.LineSettings.Parity;

class LineSettingsTest {
  @Test
  void are_written_in_the_short_form_of_the_trade() {
    assertThat(LineSettings.COMMON).hasToString("9600 8N1");
    assertThat(new LineSettings(1200, 7, Parity.EVEN, 2, FlowControl.XON_XOFF))
        .hasToString("1200 7E2 xon/xoff");
    assertThat(LineSettings.COMMON.withBaud(115_200)).hasToString("115200 8N1");
  }

  @Test
  void impossible_lines_are_refused() {
    assertThatThrownBy(() -> LineSettings.COMMON.withBaud(0)).hasMessageContaining("above 0");
    assertThatThrownBy(() -> new LineSettings(9600, 9, Parity.NONE, 1, FlowControl.NONE))
        .hasMessageContaining("5 to 8");
    assertThatThrownBy(() -> new LineSettings(9600, 4, Parity.NONE, 1, FlowControl.NONE))
        .hasMessageContaining("5 to 8");
    assertThatThrownBy(() -> new LineSettings(9600, 8, Parity.NONE, 3, FlowControl.NONE))
        .hasMessageContaining("1 or 2");
    assertThatThrownBy(() -> new LineSettings(9600, 8, Parity.NONE, 0, FlowControl.NONE))
        .hasMessageContaining("1 or 2");
  }
}
