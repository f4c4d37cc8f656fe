package pourwright.device.ble.gatt;

import java.util.UUID;

/** One value that a connected device offers, and the service it belongs to. */
public record Characteristic(Peripheral peripheral, UUID service, UUID uuid) {}
