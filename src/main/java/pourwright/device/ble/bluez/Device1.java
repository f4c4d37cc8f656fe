package pourwright.device.ble.bluez;

import org.freedesktop.dbus.annotations.DBusInterfaceName;
import org.freedesktop.dbus.annotations.DBusMemberName;
import org.freedesktop.dbus.interfaces.DBusInterface;

/** What BlueZ offers of a device, as far as it is used here (BlueZ, doc/device-api). */
@DBusInterfaceName(Device1.NAME)
public interface Device1 extends DBusInterface {
  String NAME = "org.bluez.Device1";

  @DBusMemberName("Connect")
  void connect();

  @DBusMemberName("Disconnect")
  void disconnect();
}
