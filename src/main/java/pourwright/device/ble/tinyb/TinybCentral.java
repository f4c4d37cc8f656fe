package pourwright.device.ble.tinyb;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.Executors;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.ScheduledFuture;
import java.util.concurrent.TimeUnit;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import pourwright.device.Bytes;
import pourwright.device.ble.gatt.Adapter;
import pourwright.device.ble.gatt.Characteristic;
import pourwright.device.ble.gatt.GattCentral;
import pourwright.device.ble.gatt.GattEvent;
import pourwright.device.ble.gatt.GattFailure;
import pourwright.device.ble.gatt.Peripheral;
import pourwright.device.ble.gatt.Sighting;
import tinyb.BluetoothAdapter;
import tinyb.BluetoothDevice;
import tinyb.BluetoothException;
import tinyb.BluetoothGattCharacteristic;
import tinyb.BluetoothGattService;
import tinyb.BluetoothManager;

/**
 * Bluetooth LE by TinyB.
 *
 * <p>TinyB aborts the whole program when its objects are looked up on one thread while another
 * connects, and stops telling values when nobody holds the characteristic's object. So one thread
 * does everything, looks at the devices in turn instead of being told, and holds what it subscribed
 * to. A call that waits for a device holds up all others; that, and the native code, is why this
 * way is off by default.
 */
public final class TinybCentral implements GattCentral {
  private static final Logger LOG = LoggerFactory.getLogger(TinybCentral.class);

  private static final long LOOK_MILLIS = 250;
  private static final long CLOSING_SECONDS = 2;

  private final Listener listener;
  private final ScheduledExecutorService only;

  // Owned by the only thread.
  private final Map<String, Adapter> adapters = new HashMap<>();
  private final Map<Peripheral, Sighting> sightings = new HashMap<>();
  private final Map<Peripheral, Set<Characteristic>> offered = new HashMap<>();
  private final Map<Characteristic, BluetoothGattCharacteristic> held = new HashMap<>();

  private TinybCentral(Listener listener) {
    this.listener = listener;
    this.only =
        Executors.newSingleThreadScheduledExecutor(
            work -> {
              Thread thread = new Thread(work, "tinyb");
              thread.setDaemon(true);
              return thread;
            });
  }

  /**
   * Joins the system's Bluetooth.
   *
   * @throws GattFailure when there is none, or TinyB does not run here; one plain clause
   */
  public static TinybCentral open(Listener listener) throws GattFailure {
    if (!System.getProperty("os.name", "").toLowerCase(Locale.ROOT).contains("linux")) {
      throw new GattFailure(
          "Bluetooth scales need Linux for now; scales on a cable work on every system");
    }
    TinybCentral central = new TinybCentral(listener);
    try {
      central.ask(
          () -> {
            Natives.load();
            central.look();
            return true;
          });
    } catch (GattFailure e) {
      central.close();
      throw e;
    }
    ScheduledFuture<?> unused = // ends with its thread
        central.only.scheduleWithFixedDelay(
            central::lookSafely, LOOK_MILLIS, LOOK_MILLIS, TimeUnit.MILLISECONDS);
    return central;
  }

  private void lookSafely() {
    try {
      look();
    } catch (RuntimeException e) {
      LOG.warn("could not look at the devices", e);
    }
  }

  /** Tells what is other than at the last look. */
  private void look() {
    BluetoothManager manager = BluetoothManager.getBluetoothManager();
    Map<String, Adapter> radios = new HashMap<>();
    for (BluetoothAdapter one : manager.getAdapters()) {
      radios.put(
          one.getInterfaceName(),
          new Adapter(one.getInterfaceName(), one.getAddress(), one.getPowered()));
    }
    radios.values().stream()
        .filter(one -> !one.equals(adapters.get(one.name())))
        .forEach(one -> listener.happened(new GattEvent.AdapterChanged(one)));
    adapters.keySet().stream()
        .filter(name -> !radios.containsKey(name))
        .forEach(name -> listener.happened(new GattEvent.AdapterGone(name)));
    adapters.clear();
    adapters.putAll(radios);

    Set<Peripheral> present = new HashSet<>();
    for (BluetoothDevice device : manager.getDevices()) {
      Sighting now = sighting(device);
      present.add(now.peripheral());
      look(device, now);
    }
    for (Peripheral gone : List.copyOf(sightings.keySet())) {
      if (!present.contains(gone)) {
        forget(gone);
        sightings.remove(gone);
      }
    }
  }

  private void look(BluetoothDevice device, Sighting now) {
    Peripheral peripheral = now.peripheral();
    Optional<Sighting> before = Optional.ofNullable(sightings.put(peripheral, now));
    boolean wasUp = before.filter(Sighting::isConnected).isPresent();
    if (now.isConnected() && !wasUp) {
      listener.happened(new GattEvent.Connected(peripheral));
    } else if (!now.isConnected() && wasUp) {
      forget(peripheral);
    }
    // To list what a device offers takes TinyB long enough to hold up its values. While it is
    // listened to, its silence says as much.
    boolean isListenedTo =
        held.keySet().stream().anyMatch(one -> one.peripheral().equals(peripheral));
    if (now.isConnected() && !isListenedTo && device.getServicesResolved()) {
      tellOffers(device, peripheral);
    }
    if (now.isInReach() && before.filter(now::equals).isEmpty()) {
      listener.happened(new GattEvent.Sighted(now));
    }
  }

  /** They become known one after the other, and may go and come while the connection stays. */
  private void tellOffers(BluetoothDevice device, Peripheral peripheral) {
    Set<Characteristic> now = new HashSet<>(characteristics(device, peripheral));
    Set<Characteristic> before = Optional.ofNullable(offered.put(peripheral, now)).orElse(Set.of());
    if (!now.containsAll(before)) {
      held.keySet().removeIf(one -> before.contains(one) && !now.contains(one));
      listener.happened(new GattEvent.Unresolved(peripheral));
    }
    if (!before.containsAll(now)) {
      listener.happened(new GattEvent.Resolved(peripheral));
    }
  }

  private static List<Characteristic> characteristics(
      BluetoothDevice device, Peripheral peripheral) {
    List<Characteristic> found = new ArrayList<>();
    for (BluetoothGattService service : device.getServices()) {
      for (BluetoothGattCharacteristic one : service.getCharacteristics()) {
        found.add(
            new Characteristic(
                peripheral, UUID.fromString(service.getUUID()), UUID.fromString(one.getUUID())));
      }
    }
    return found;
  }

  private void forget(Peripheral peripheral) {
    offered.remove(peripheral);
    held.keySet().removeIf(one -> one.peripheral().equals(peripheral));
    listener.happened(new GattEvent.Disconnected(peripheral));
  }

  private static Sighting sighting(BluetoothDevice device) {
    Set<UUID> services = new HashSet<>();
    for (String uuid : device.getUUIDs()) {
      services.add(UUID.fromString(uuid));
    }
    short rssi = device.getRSSI();
    return new Sighting(
        new Peripheral(device.getAdapter().getInterfaceName(), device.getAddress()),
        device.getAlias(),
        rssi == 0 ? OptionalInt.empty() : OptionalInt.of(rssi),
        services,
        device.getConnected(),
        device.getPaired());
  }

  @Override
  public List<Adapter> listAdapters() {
    return askOr(List.of(), () -> adapters.values().stream().toList());
  }

  @Override
  public List<Sighting> listSightings(String adapter) {
    return askOr(
        List.of(),
        () ->
            sightings.values().stream()
                .filter(seen -> seen.peripheral().adapter().equals(adapter))
                .toList());
  }

  @Override
  public void scan(String adapter) throws GattFailure {
    ask(
        () -> {
          BluetoothAdapter radio = radio(adapter);
          if (radio.getDiscovering()) {
            stop(radio);
          }
          sightings.values().removeIf(seen -> !seen.isConnected());
          for (Sighting seen : sightings.values()) {
            listener.happened(new GattEvent.Sighted(seen));
          }
          return radio.startDiscovery();
        });
  }

  @Override
  public void stopScan(String adapter) throws GattFailure {
    ask(() -> stop(radio(adapter)));
  }

  private static boolean stop(BluetoothAdapter radio) {
    try {
      return radio.stopDiscovery();
    } catch (BluetoothException notLooking) {
      LOG.debug("was not looking", notLooking);
      return false;
    }
  }

  @Override
  public void connect(Peripheral peripheral) throws GattFailure {
    ask(
        () -> {
          BluetoothDevice device = device(peripheral);
          return device.getConnected() || device.connect();
        });
  }

  @Override
  public void disconnect(Peripheral peripheral) throws GattFailure {
    ask(() -> device(peripheral).disconnect());
  }

  @Override
  public List<Characteristic> listCharacteristics(Peripheral peripheral) {
    return askOr(
        List.of(),
        () -> {
          BluetoothDevice device = device(peripheral);
          return device.getConnected() && device.getServicesResolved()
              ? characteristics(device, peripheral)
              : List.<Characteristic>of();
        });
  }

  @Override
  public void subscribe(Characteristic characteristic) throws GattFailure {
    ask(
        () -> {
          BluetoothGattCharacteristic one = characteristic(characteristic);
          held.put(characteristic, one);
          one.enableValueNotifications(
              value ->
                  listener.happened(new GattEvent.Notified(characteristic, Bytes.copyOf(value))));
          return true;
        });
  }

  @Override
  public void unsubscribe(Characteristic characteristic) throws GattFailure {
    ask(
        () -> {
          BluetoothGattCharacteristic one = held.remove(characteristic);
          if (one != null) {
            one.disableValueNotifications();
          }
          return true;
        });
  }

  @Override
  public Bytes read(Characteristic characteristic) throws GattFailure {
    return ask(() -> Bytes.copyOf(characteristic(characteristic).readValue()));
  }

  @Override
  public void write(Characteristic characteristic, Bytes value, boolean isAnswered)
      throws GattFailure {
    ask(() -> characteristic(characteristic).writeValue(value.toArray()));
  }

  @Override
  public void close() {
    only.shutdownNow();
    try {
      if (!only.awaitTermination(CLOSING_SECONDS, TimeUnit.SECONDS)) {
        LOG.warn("TinyB still waits for a device");
      }
    } catch (InterruptedException told) {
      Thread.currentThread().interrupt();
    }
  }

  private static BluetoothAdapter radio(String name) throws GattFailure {
    for (BluetoothAdapter one : BluetoothManager.getBluetoothManager().getAdapters()) {
      if (one.getInterfaceName().equals(name)) {
        return one;
      }
    }
    throw new GattFailure("radio " + name + " is no longer there");
  }

  private static BluetoothDevice device(Peripheral peripheral) throws GattFailure {
    for (BluetoothDevice one : BluetoothManager.getBluetoothManager().getDevices()) {
      if (one.getAddress().equals(peripheral.address())
          && one.getAdapter().getInterfaceName().equals(peripheral.adapter())) {
        return one;
      }
    }
    throw new GattFailure(peripheral + " is no longer known");
  }

  private BluetoothGattCharacteristic characteristic(Characteristic wanted) throws GattFailure {
    BluetoothGattCharacteristic kept = held.get(wanted);
    if (kept != null) {
      return kept;
    }
    for (BluetoothGattService service : device(wanted.peripheral()).getServices()) {
      if (UUID.fromString(service.getUUID()).equals(wanted.service())) {
        for (BluetoothGattCharacteristic one : service.getCharacteristics()) {
          if (UUID.fromString(one.getUUID()).equals(wanted.uuid())) {
            return one;
          }
        }
      }
    }
    throw new GattFailure(wanted.peripheral() + " does not offer " + wanted.uuid() + " now");
  }

  private <T> T ask(Callable<T> work) throws GattFailure {
    try {
      return only.submit(work).get();
    } catch (RejectedExecutionException e) {
      throw new GattFailure("the link is being closed", e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new GattFailure("the link is being closed", e);
    } catch (ExecutionException e) {
      if (e.getCause() instanceof GattFailure failure) {
        throw failure;
      }
      throw new GattFailure("TinyB says: " + e.getCause(), e);
    }
  }

  private <T> T askOr(T otherwise, Callable<T> work) {
    try {
      return ask(work);
    } catch (GattFailure e) {
      LOG.debug("not known now", e);
      return otherwise;
    }
  }
}
