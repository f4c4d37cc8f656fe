package pourwright.device.ble.bluez;

import org.freedesktop.dbus.annotations.DBusInterfaceName;
import org.freedesktop.dbus.exceptions.DBusException;
import org.freedesktop.dbus.interfaces.DBusInterface;
import org.freedesktop.dbus.messages.DBusSignal;

/** Tells when the computer falls asleep and wakes (systemd, org.freedesktop.login1). */
@DBusInterfaceName("org.freedesktop.login1.Manager")
interface LoginManager extends DBusInterface {

  /** Sent twice: before sleep with true, after it with false. */
  class PrepareForSleep extends DBusSignal {
    private final boolean isBefore;

    public PrepareForSleep(String path, boolean isBefore) throws DBusException {
      super(path, isBefore);
      this.isBefore = isBefore;
    }

    boolean isBefore() {
      return isBefore;
    }
  }
}
