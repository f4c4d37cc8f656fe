package pourwright.cli;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.PrintWriter;
import java.time.Duration;
import java.util.List;
import java.util.UUID;
import pourwright.device.ble.BleScan;
import pourwright.device.ble.gatt.Sighting;
import pourwright.device.protocol.Profile;

/** Bluetooth devices in reach, and which profiles fit what they announce. */
final class Scanning {
  /** Scales on battery call every second or two; own choice. */
  private static final Duration PATIENCE = Duration.ofSeconds(8);

  private static final String NONE =
      "No Bluetooth device is in reach; is the scale switched on, and not connected elsewhere?\n";

  private final List<Sighting> found;
  private final List<Profile> profiles;

  /**
   * @param found strongest first
   */
  Scanning(List<Sighting> found, List<Profile> profiles) {
    this.found = found;
    this.profiles = profiles.stream().filter(profile -> profile.ble().isPresent()).toList();
  }

  /**
   * Looks around.
   *
   * @throws Failure when this computer has no Bluetooth to use
   */
  static Scanning of(BluetoothOptions options, List<Profile> profiles)
      throws Failure, InterruptedException {
    try {
      return new Scanning(
          BleScan.listInReach(PATIENCE, options.radio(), options.backend()), profiles);
    } catch (IOException refused) {
      throw new Failure(String.valueOf(refused.getMessage()), refused);
    }
  }

  String text() {
    if (found.isEmpty()) {
      return NONE;
    }
    StringBuilder text = new StringBuilder("In reach, strongest first:\n");
    for (Sighting seen : found) {
      text.append("\n  ").append(seen.name()).append(", ").append(strength(seen));
      text.append(seen.isBonded() ? ", paired" : "").append('\n');
      List<Profile> fitting = fitting(seen);
      for (Profile profile : fitting) {
        text.append("    --scale '").append(address(seen, profile)).append("'\n");
        profile.caution().ifPresent(caution -> text.append("      note: " + caution + "\n"));
      }
      if (fitting.isEmpty()) {
        text.append(
            "    " + seen.peripheral().address() + ": no profile reads what it announces\n");
      }
      for (UUID service : services(seen)) {
        text.append("    service ").append(service).append('\n');
      }
    }
    return text.toString();
  }

  void printJson(PrintWriter out) throws Failure {
    try (JsonGenerator json = Json.write(out)) {
      json.writeStartObject();
      json.writeNumberField("format", 1);
      json.writeArrayFieldStart("devices");
      for (Sighting seen : found) {
        json.writeStartObject();
        json.writeStringField("address", seen.peripheral().address());
        json.writeStringField("radio", seen.peripheral().adapter());
        json.writeStringField("name", seen.name());
        if (seen.strength().isPresent()) {
          json.writeNumberField("strength_dbm", seen.strength().getAsInt());
        } else {
          json.writeNullField("strength_dbm");
        }
        json.writeBooleanField("connected", seen.isConnected());
        json.writeBooleanField("paired", seen.isBonded());
        json.writeArrayFieldStart("services");
        for (UUID service : services(seen)) {
          json.writeString(service.toString());
        }
        json.writeEndArray();
        json.writeArrayFieldStart("scales");
        for (Profile profile : fitting(seen)) {
          json.writeString(address(seen, profile));
        }
        json.writeEndArray();
        json.writeEndObject();
      }
      json.writeEndArray();
      json.writeEndObject();
      json.writeRaw('\n');
    } catch (IOException failed) {
      throw new Failure("what was found could not be written: " + failed.getMessage(), failed);
    }
  }

  private static String strength(Sighting seen) {
    if (seen.strength().isPresent()) {
      return seen.strength().getAsInt() + " dBm";
    }
    return seen.isConnected() ? "connected to this computer" : "strength not measured";
  }

  private static String address(Sighting seen, Profile profile) {
    return "ble:" + seen.peripheral().address() + "?profile=" + profile.name();
  }

  private static List<UUID> services(Sighting seen) {
    return seen.services().stream().sorted().toList();
  }

  private List<Profile> fitting(Sighting seen) {
    return profiles.stream()
        .filter(profile -> seen.services().contains(profile.ble().orElseThrow().service()))
        .toList();
  }
}
