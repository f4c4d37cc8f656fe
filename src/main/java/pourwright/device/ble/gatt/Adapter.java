package pourwright.device.ble.gatt;

/**
 * A Bluetooth radio of this computer.
 *
 * @param name the system's name, such as {@code hci0}
 * @param address its own address
 * @param isOn whether it is switched on
 */
public record Adapter(String name, String address, boolean isOn) {}
