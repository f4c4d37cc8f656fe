package pourwright.device.ble.bluez;

import java.util.Map;
import org.freedesktop.dbus.annotations.DBusInterfaceName;
import org.freedesktop.dbus.annotations.DBusMemberName;
import org.freedesktop.dbus.interfaces.DBusInterface;
import org.freedesktop.dbus.types.Variant;

/** What BlueZ offers of a radio, as far as it is used here (BlueZ, doc/adapter-api). */
@DBusInterfaceName(Adapter1.NAME)
public interface Adapter1 extends DBusInterface {
  String NAME = "org.bluez.Adapter1";

  @DBusMemberName("SetDiscoveryFilter")
  void setDiscoveryFilter(Map<String, Variant<?>> filter);

  @DBusMemberName("StartDiscovery")
  void startDiscovery();

  @DBusMemberName("StopDiscovery")
  void stopDiscovery();
}
