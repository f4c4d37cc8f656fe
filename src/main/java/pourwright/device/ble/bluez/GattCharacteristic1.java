package pourwright.device.ble.bluez;

import java.util.Map;
import org.freedesktop.dbus.annotations.DBusInterfaceName;
import org.freedesktop.dbus.annotations.DBusMemberName;
import org.freedesktop.dbus.interfaces.DBusInterface;
import org.freedesktop.dbus.types.Variant;

/** What BlueZ offers of a characteristic, as far as it is used here (BlueZ, doc/gatt-api). */
@DBusInterfaceName(GattCharacteristic1.NAME)
public interface GattCharacteristic1 extends DBusInterface {
  String NAME = "org.bluez.GattCharacteristic1";

  @DBusMemberName("StartNotify")
  void startNotify();

  @DBusMemberName("StopNotify")
  void stopNotify();

  @DBusMemberName("ReadValue")
  byte[] readValue(Map<String, Variant<?>> options);

  @DBusMemberName("WriteValue")
  void writeValue(byte[] value, Map<String, Variant<?>> options);
}
