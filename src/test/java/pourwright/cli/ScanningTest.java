package pourwright.cli;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.util.List;
import java.util.OptionalInt;
import java.util.Set;
import java.util.UUID;
import org.junit.jupiter.api.Test;
import pourwright.device.BleSettings;
import pourwright.device.ble.gatt.Peripheral;
import pourwright.device.ble.gatt.Sighting;
import pourwright.device.catalogue.Profiles;

class ScanningTest {
  private static final UUID STREAM = UUID.fromString("5ca1e000-1ab0-4b1e-9f00-00000000f00d");

  private static final Sighting NEAR =
      new Sighting(
          new Peripheral("hci0", "02:00:00:00:00:01"),
          "Bench",
          OptionalInt.of(-51),
          Set.of(STREAM),
          false,
          true);

  private static final Sighting STANDARD =
      new Sighting(
          new Peripheral("hci0", "02:00:00:00:00:02"),
          "Kitchen",
          OptionalInt.of(Sighting.UNKNOWN_RSSI),
          Set.of(BleSettings.standard(0x181D)),
          false,
          false);

  private static final Sighting LAMP =
      new Sighting(
          new Peripheral("hci0", "02:00:00:00:00:03"),
          "Lamp",
          OptionalInt.empty(),
          Set.of(),
          true,
          false);

  private static Scanning scanning(Sighting... found) {
    return new Scanning(List.of(found), Profiles.shipped().list());
  }

  @Test
  void each_device_is_named_as_a_command_takes_it() {
    assertThat(scanning(NEAR, STANDARD, LAMP).text().lines())
        .containsExactly(
            "In reach, strongest first:",
            "",
            "  Bench, -51 dBm, paired",
            "    --scale 'ble:02:00:00:00:00:01?profile=ble-binary-message'",
            "    --scale 'ble:02:00:00:00:00:01?profile=ble-text-stream'",
            "    service 5ca1e000-1ab0-4b1e-9f00-00000000f00d",
            "",
            "  Kitchen, strength not measured",
            "    --scale 'ble:02:00:00:00:00:02?profile=ble-weight-scale'",
            "      note: this standard sends weights in steps of 5 g, too coarse to judge pours by",
            "    service 0000181d-0000-1000-8000-00805f9b34fb",
            "",
            "  Lamp, connected to this computer",
            "    02:00:00:00:00:03: no profile reads what it announces");
  }

  @Test
  void nothing_in_reach_is_said_with_what_to_look_at() {
    assertThat(scanning().text()).contains("No Bluetooth device is in reach", "switched on");
  }

  @Test
  void json_tells_the_same_to_programs() throws Exception {
    StringWriter out = new StringWriter();
    scanning(NEAR, LAMP).printJson(new PrintWriter(out));
    JsonNode devices = new ObjectMapper().readTree(out.toString()).get("devices");
    assertThat(devices).hasSize(2);
    assertThat(devices.get(0).get("strength_dbm").asInt()).isEqualTo(-51);
    assertThat(devices.get(0).get("paired").asBoolean()).isTrue();
    assertThat(devices.get(0).get("scales").get(0).asText())
        .isEqualTo("ble:02:00:00:00:00:01?profile=ble-binary-message");
    assertThat(devices.get(1).get("strength_dbm").isNull()).isTrue();
    assertThat(devices.get(1).get("connected").asBoolean()).isTrue();
    assertThat(devices.get(1).get("scales")).isEmpty();
  }
}
