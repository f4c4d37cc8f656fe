package pourwright.device.ble.link;

import java.util.Optional;
import java.util.UUID;
import pourwright.device.ble.gatt.Sighting;

/**
 * Which scale a link is to.
 *
 * @param address of the one scale; empty takes the strongest that offers {@code service}
 * @param service the service that its profile reads
 */
public record Wanted(Optional<String> address, UUID service) {
  /** The standard's number for devices that weigh, Bluetooth SIG Weight Scale Service, 0x181D. */
  static final UUID ANY_SCALE = UUID.fromString("0000181d-0000-1000-8000-00805f9b34fb");

  /** Whether {@code seen} is certainly the scale, or one of those that will do. */
  boolean isMetBy(Sighting seen) {
    return address.isPresent()
        ? address.get().equalsIgnoreCase(seen.peripheral().address())
        : seen.services().contains(service);
  }

  /**
   * Whether {@code seen} may be one: it calls itself a scale but does not say that it has the
   * service. What a device sends around has no room for all its services.
   */
  boolean isMaybeMetBy(Sighting seen) {
    return address.isEmpty() && seen.services().contains(ANY_SCALE);
  }

  /** In plain words. */
  public String words() {
    return address.map(known -> "scale " + known).orElse("scale of this profile");
  }
}
