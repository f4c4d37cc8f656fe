package pourwright.device.ble.gatt;

import java.io.IOException;

/** The system's Bluetooth did not do what was asked; the message is one plain clause. */
public final class GattFailure extends IOException {
  private static final long serialVersionUID = 1L;

  public GattFailure(String what) {
    super(what);
  }

  public GattFailure(String what, Throwable cause) {
    super(what, cause);
  }

  /** Never null, unlike {@link #getMessage}. */
  public String what() {
    String message = getMessage();
    return message == null ? "no reason given" : message;
  }
}
