package pourwright.device.ble.gatt;

import java.util.OptionalInt;
import java.util.Set;
import java.util.UUID;

/**
 * What is known of a device from what it sends around, and from the system's memory.
 *
 * @param name as it calls itself; its address where it does not
 * @param rssi strength of what was heard of it in the present search (dBm, negative); empty when it
 *     is only remembered
 * @param services that it says it has
 * @param isConnected whether this computer is connected to it already, through any program
 * @param isBonded whether it was paired with this computer
 */
public record Sighting(
    Peripheral peripheral,
    String name,
    OptionalInt rssi,
    Set<UUID> services,
    boolean isConnected,
    boolean isBonded) {
  /** Heard, but the radio did not measure how strongly (Bluetooth Core, HCI events: 127). */
  public static final int UNKNOWN_RSSI = 127;

  public Sighting {
    services = Set.copyOf(services);
  }

  /** How strongly it was heard (dBm), where that was measured. */
  public OptionalInt strength() {
    return rssi.isPresent() && rssi.getAsInt() != UNKNOWN_RSSI ? rssi : OptionalInt.empty();
  }

  /** Whether it is there now, and not only remembered. */
  public boolean isInReach() {
    return isConnected || rssi.isPresent();
  }

  /** The same, heard just now though nobody said how strongly. */
  public Sighting heard() {
    return isInReach()
        ? this
        : new Sighting(
            peripheral, name, OptionalInt.of(UNKNOWN_RSSI), services, isConnected, isBonded);
  }
}
