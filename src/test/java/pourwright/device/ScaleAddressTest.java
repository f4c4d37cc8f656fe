package pourwright.device;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import pourwright.device.LineSettings.FlowControl;
import pourwright.device.LineSettings.Parity;

class ScaleAddressTest {
  @Test
  void a_serial_port_has_a_profile_and_may_change_its_line() {
    ScaleAddress.Serial serial =
        (ScaleAddress.Serial)
            ScaleAddress.parse(
                "serial:/dev/ttyUSB0?profile=number-unit&baud=19200&bits=7&parity=even&stop=2&flow=rts-cts");
    assertThat(serial.port()).isEqualTo("/dev/ttyUSB0");
    assertThat(serial.profile()).isEqualTo("number-unit");
    assertThat(serial.change().appliedTo(LineSettings.COMMON))
        .isEqualTo(new LineSettings(19_200, 7, Parity.EVEN, 2, FlowControl.RTS_CTS));
    assertThat(ScaleAddress.parse("serial:COM3?profile=x"))
        .isEqualTo(new ScaleAddress.Serial("COM3", "x", LineChange.NONE));
    assertThat(LineChange.NONE.appliedTo(LineSettings.COMMON)).isEqualTo(LineSettings.COMMON);
  }

  @Test
  void a_bluetooth_scale_has_an_address_or_is_the_strongest_that_fits() {
    assertThat(ScaleAddress.parse("ble:aa:bb:cc:dd:ee:0f?profile=x"))
        .isEqualTo(new ScaleAddress.Ble(Optional.of("AA:BB:CC:DD:EE:0F"), "x"));
    assertThat(ScaleAddress.parse("ble:?profile=x"))
        .isEqualTo(new ScaleAddress.Ble(Optional.empty(), "x"));
  }

  @Test
  void a_recording_is_played_at_its_own_speed_unless_told() {
    assertThat(ScaleAddress.parse("replay:runs/one.stream"))
        .isEqualTo(new ScaleAddress.Replay("runs/one.stream", 1));
    assertThat(ScaleAddress.parse("replay:C:\\runs\\my%20run%3f.csv?speed=0"))
        .isEqualTo(new ScaleAddress.Replay("C:\\runs\\my run?.csv", 0));
    assertThat(ScaleAddress.parse("replay:100%.csv?speed=2.5"))
        .isEqualTo(new ScaleAddress.Replay("100%.csv", 2.5));
  }

  @Test
  void a_simulation_has_a_seed() {
    assertThat(ScaleAddress.parse("sim:bench"))
        .isEqualTo(new ScaleAddress.Sim("bench", 7, 1, Optional.empty()));
    assertThat(ScaleAddress.parse("sim:bench?seed=-3&speed=4&profile=binary-sum"))
        .isEqualTo(new ScaleAddress.Sim("bench", -3, 4, Optional.of("binary-sum")));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "/dev/ttyUSB0|begins with serial:, ble:, replay: or sim:",
        "usb:1|begins with serial:, ble:, replay: or sim:",
        "serial:?profile=x|does not say the port: serial:/dev/ttyUSB0?profile=NAME",
        "serial:/dev/ttyUSB0|add profile=NAME ('scales' lists the names",
        "serial:/dev/ttyUSB0?profile=|profile is empty",
        "serial:p?profile=x&baud=fast|baud=fast in serial:p?profile=x&baud=fast should be a whole number from 50 to 4000000",
        "serial:p?profile=x&bits=9|should be a whole number from 5 to 8",
        "serial:p?profile=x&parity=maybe|should be one of none, odd, even, mark, space",
        "serial:p?profile=x&stop=3|should be a whole number from 1 to 2",
        "serial:p?profile=x&flow=up|should be one of none, rts-cts, xon-xoff",
        "serial:p?profile=x&bauds=1|unknown part 'bauds'",
        "serial:p?profile=x&profile=y|profile is given twice",
        "serial:p?profile|'profile' in serial:p?profile should be key=value",
        "serial:p?=x|'=x' in serial:p?=x should be key=value",
        "ble:AA:BB?profile=x|no Bluetooth address: 'AA:BB'",
        "ble:?|add profile=NAME",
        "replay:|does not say the file to play",
        "replay:f?speed=-1|should be 0 (as fast as it goes) or a factor",
        "replay:f?speed=NaN|should be 0 (as fast as it goes) or a factor",
        "replay:f?speed=x|should be 0 (as fast as it goes) or a factor",
        "sim:|does not say which one",
        "sim:bench?seed=x|seed=x in sim:bench?seed=x should be a whole number",
      })
  void a_wrong_address_is_told_with_what_would_be_right(String address, String message) {
    assertThatThrownBy(() -> ScaleAddress.parse(address))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining(message);
  }
}
