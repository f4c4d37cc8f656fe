package pourwright.device.ble.gatt;

import java.util.List;
import pourwright.device.Bytes;

/**
 * The receiving end of Bluetooth LE, as the system offers it.
 *
 * <p>Any thread may call; calls may wait for the device or the system, about 20 s at most. What
 * happens by itself is told to the listener given at the start, by one thread at a time and in
 * order; it must not wait there. What is written here about a device holds for its present
 * connection only: after the next one everything is looked up anew.
 */
public interface GattCentral extends AutoCloseable {
  /** The adapters there are, by name. */
  List<Adapter> listAdapters();

  /** Everything the system knows of now, in reach or remembered. */
  List<Sighting> listSightings(String adapter);

  /** Starts to look for devices; those that are there are told again. */
  void scan(String adapter) throws GattFailure;

  /** Stops looking; not looking is no failure. */
  void stopScan(String adapter) throws GattFailure;

  /** Connects; being connected already is no failure. */
  void connect(Peripheral peripheral) throws GattFailure;

  /** Ends the connection, or the attempt at one; not being connected is no failure. */
  void disconnect(Peripheral peripheral) throws GattFailure;

  /** What a connected device offers; empty while that is not known. */
  List<Characteristic> listCharacteristics(Peripheral peripheral);

  /** Asks a characteristic to send its values, whether by notification or by indication. */
  void subscribe(Characteristic characteristic) throws GattFailure;

  /** Asks it to stop; not being subscribed is no failure. */
  void unsubscribe(Characteristic characteristic) throws GattFailure;

  Bytes read(Characteristic characteristic) throws GattFailure;

  /**
   * Writes a value.
   *
   * @param isAnswered whether to wait for the device to confirm
   */
  void write(Characteristic characteristic, Bytes value, boolean isAnswered) throws GattFailure;

  /** Lets the system's Bluetooth go; connections that others hold stay. May be called twice. */
  @Override
  void close();

  /** Is told what happens. */
  @FunctionalInterface
  interface Listener {
    void happened(GattEvent event);
  }
}
