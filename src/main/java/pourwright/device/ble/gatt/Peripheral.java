package pourwright.device.ble.gatt;

/**
 * One device as seen from one adapter.
 *
 * @param adapter the system's name of the adapter, such as {@code hci0}
 * @param address six bytes in capital hexadecimal, colons between
 */
public record Peripheral(String adapter, String address) {
  @Override
  public String toString() {
    return address;
  }
}
