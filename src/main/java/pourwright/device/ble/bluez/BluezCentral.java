package pourwright.device.ble.bluez;

import java.io.IOException;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Supplier;
import org.freedesktop.dbus.connections.IDisconnectCallback;
import org.freedesktop.dbus.connections.impl.DBusConnection;
import org.freedesktop.dbus.connections.impl.DBusConnectionBuilder;
import org.freedesktop.dbus.exceptions.DBusException;
import org.freedesktop.dbus.exceptions.DBusExecutionException;
import org.freedesktop.dbus.interfaces.DBus;
import org.freedesktop.dbus.interfaces.DBusInterface;
import org.freedesktop.dbus.interfaces.DBusSigHandler;
import org.freedesktop.dbus.interfaces.ObjectManager;
import org.freedesktop.dbus.interfaces.Properties;
import org.freedesktop.dbus.matchrules.DBusMatchRuleBuilder;
import org.freedesktop.dbus.messages.DBusSignal;
import org.freedesktop.dbus.types.Variant;
import org.jspecify.annotations.Nullable;
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

/**
 * Bluetooth LE by BlueZ, over the system's D-Bus.
 *
 * <p>One thread takes the signals, so that what BlueZ says stays in order; it keeps a copy of
 * BlueZ's objects up to date, tells the listener, and never waits for an answer. Nothing thrown in
 * a signal leaves it.
 */
public final class BluezCentral implements GattCentral {
  private static final Logger LOG = LoggerFactory.getLogger(BluezCentral.class);

  private static final String BLUEZ = "org.bluez";
  private static final String BLUEZ_ROOT = "/org/bluez";

  private static final Map<String, String> BLUEZ_ERRORS =
      Map.of(
          "in progress", "InProgress",
          "already connected", "AlreadyConnected",
          "not connected", "NotConnected",
          "not ready", "NotReady",
          "not authorized", "NotAuthorized",
          "not permitted", "NotPermitted",
          "not paired", "NotPermitted",
          "does not exist", "DoesNotExist",
          "no discovery started", "NotScanning");

  /** More than one would let signals overtake each other. */
  private static final int SIGNAL_THREADS = 1;

  private final Listener listener;
  private final DBusConnection bus;
  private final Object treeLock = new Object();
  private final ObjectTree tree = new ObjectTree(); // under treeLock
  private final SignalOrder order = new SignalOrder(); // under treeLock
  private String owner = ""; // under treeLock; the bus name behind org.bluez, empty without it
  private volatile boolean isClosing;

  private BluezCentral(Listener listener, DBusConnectionBuilder way) throws DBusException {
    this.listener = listener;
    this.bus =
        way.withShared(false)
            .withDisconnectCallback(new Cut())
            .receivingThreadConfig()
            .withSignalThreadCount(SIGNAL_THREADS)
            .connectionConfig()
            .build();
  }

  /**
   * Joins the system's Bluetooth.
   *
   * @throws GattFailure when there is none, or it may not be used; one plain clause that says what
   *     to do
   */
  public static BluezCentral open(Listener listener) throws GattFailure {
    return open(listener, DBusConnectionBuilder::forSystemBus);
  }

  /**
   * Joins a BlueZ on a bus of its own.
   *
   * @param bus a D-Bus address, such as {@code unix:path=/run/dbus/system_bus_socket}
   */
  public static BluezCentral openAt(String bus, Listener listener) throws GattFailure {
    return open(listener, () -> DBusConnectionBuilder.forAddress(bus));
  }

  private static BluezCentral open(Listener listener, Supplier<DBusConnectionBuilder> way)
      throws GattFailure {
    if (!System.getProperty("os.name", "").toLowerCase(Locale.ROOT).contains("linux")) {
      throw new GattFailure(
          "Bluetooth scales need Linux for now; scales on a cable work on every system");
    }
    BluezCentral central;
    try {
      central = new BluezCentral(listener, way.get());
    } catch (DBusException | RuntimeException e) {
      throw new GattFailure(
          "this system has no message bus (D-Bus) to reach Bluetooth by; start it, or use a cable",
          e);
    }
    try {
      central.listen();
      central.load();
      return central;
    } catch (DBusException | DBusExecutionException e) {
      central.close();
      throw new GattFailure(whyNoBluez(e), e);
    }
  }

  private static String whyNoBluez(Exception e) {
    String type = e instanceof DBusExecutionException refused ? typeOf(refused) : "";
    return switch (type) {
      case "AccessDenied", "AuthFailed" ->
          "this account may not use Bluetooth; join the group bluetooth and log in again";
      case "ServiceUnknown", "NameHasNoOwner" ->
          "the system's Bluetooth service is not running; start it with: systemctl start bluetooth";
      default -> "the system's Bluetooth does not answer (" + e.getMessage() + ")";
    };
  }

  private void listen() throws DBusException {
    on(Properties.PropertiesChanged.class, BLUEZ_ROOT, this::changed);
    on(ObjectManager.InterfacesAdded.class, "", this::added);
    on(ObjectManager.InterfacesRemoved.class, "", this::removed);
    on(DBus.NameOwnerChanged.class, "", this::ownerChanged);
    on(LoginManager.PrepareForSleep.class, "", this::slept);
  }

  private <T extends DBusSignal> void on(Class<T> kind, String under, DBusSigHandler<T> handler)
      throws DBusException {
    DBusMatchRuleBuilder rule = DBusMatchRuleBuilder.create().withType(kind);
    if (!under.isEmpty()) {
      rule.withPathNamespace(under);
    }
    DBusSigHandler<T> safe =
        signal -> {
          try {
            handler.handle(signal);
          } catch (RuntimeException bug) {
            LOG.error("could not take {}", signal, bug);
          }
        };
    bus.addSigHandler(rule.build(), safe);
  }

  /** Takes everything BlueZ has now; signals wait meanwhile, so none is older than what is kept. */
  private void load() throws DBusException {
    synchronized (treeLock) {
      ObjectManager manager = bus.getRemoteObject(BLUEZ, "/", ObjectManager.class);
      var objects = manager.GetManagedObjects();
      owner = Optional.ofNullable(bus.getDBusOwnerName(BLUEZ)).orElse("");
      tree.clear();
      objects.forEach((path, interfaces) -> tree.add(path.getPath(), interfaces));
      for (String path : tree.listPaths(Adapter1.NAME)) {
        tree.findAdapter(path).ifPresent(a -> tell(new GattEvent.AdapterChanged(a)));
      }
    }
  }

  private void tell(GattEvent event) {
    if (!isClosing) {
      listener.happened(event);
    }
  }

  private boolean isFromBluez(DBusSignal signal) {
    return owner.equals(signal.getSource());
  }

  private void changed(Properties.PropertiesChanged signal) {
    String path = signal.getPath();
    String face = signal.getInterfaceName();
    Map<String, Variant<?>> changed = signal.getPropertiesChanged();
    synchronized (treeLock) {
      if (!isFromBluez(signal)) {
        return;
      }
      if (face.equals(GattCharacteristic1.NAME)) {
        Variant<?> value = changed.get("Value");
        if (value != null) {
          notified(path, bytesOf(value.getValue()), signal);
        }
        return;
      }
      tree.change(path, face, changed, signal.getPropertiesRemoved());
      if (face.equals(Adapter1.NAME) && changed.containsKey("Powered")) {
        tree.findAdapter(path).ifPresent(a -> tell(new GattEvent.AdapterChanged(a)));
      } else if (face.equals(Device1.NAME)) {
        deviceChanged(path, changed.keySet());
      }
    }
  }

  private void notified(String path, Bytes value, DBusSignal signal) {
    if (!order.isNext(signal.getSerial())) {
      LOG.error("left out a value that came after a later one: {}", signal);
      return;
    }
    tree.findCharacteristic(path).ifPresent(from -> tell(new GattEvent.Notified(from, value)));
  }

  /** The D-Bus library gives bytes inside a variant as an array or as a list. */
  private static Bytes bytesOf(Object value) {
    if (value instanceof byte[] array) {
      return Bytes.copyOf(array);
    }
    List<?> list = value instanceof Object[] boxed ? List.of(boxed) : (List<?>) value;
    byte[] bytes = new byte[list.size()];
    for (int i = 0; i < bytes.length; i++) {
      bytes[i] = ((Number) list.get(i)).byteValue();
    }
    return Bytes.copyOf(bytes);
  }

  private void deviceChanged(String path, Set<String> changed) {
    Optional<Peripheral> peripheral = tree.findPeripheral(path);
    if (peripheral.isEmpty()) {
      return;
    }
    if (changed.contains("Connected")) {
      tell(
          tree.isConnected(path)
              ? new GattEvent.Connected(peripheral.get())
              : new GattEvent.Disconnected(peripheral.get()));
    }
    if (changed.contains("ServicesResolved") && tree.isResolved(path)) {
      tell(new GattEvent.Resolved(peripheral.get()));
    }
    if (changed.contains("RSSI") || changed.contains("UUIDs") || changed.contains("Connected")) {
      tree.findSighting(path).ifPresent(seen -> tell(new GattEvent.Sighted(seen)));
    }
  }

  private void added(ObjectManager.InterfacesAdded signal) {
    String path = signal.getSignalSource().getPath();
    synchronized (treeLock) {
      if (!isFromBluez(signal)) {
        return;
      }
      tree.add(path, signal.getInterfaces());
      tree.findAdapter(path).ifPresent(a -> tell(new GattEvent.AdapterChanged(a)));
      // What comes up during a search was heard; before one it is only remembered.
      boolean isHeard = tree.isDiscovering(ObjectTree.parentOf(path));
      tree.findSighting(path)
          .map(seen -> isHeard ? seen.heard() : seen)
          .ifPresent(seen -> tell(new GattEvent.Sighted(seen)));
      String device = ObjectTree.parentOf(ObjectTree.parentOf(path));
      if (tree.findCharacteristic(path).isPresent() && tree.isResolved(device)) {
        tree.findPeripheral(device).ifPresent(p -> tell(new GattEvent.Resolved(p)));
      }
    }
  }

  private void removed(ObjectManager.InterfacesRemoved signal) {
    String path = signal.getSignalSource().getPath();
    List<String> interfaces = signal.getInterfaces();
    synchronized (treeLock) {
      if (!isFromBluez(signal)) {
        return;
      }
      Optional<Peripheral> peripheral = tree.findPeripheral(path);
      Optional<Characteristic> characteristic = tree.findCharacteristic(path);
      Optional<Adapter> adapter = tree.findAdapter(path);
      tree.remove(path, interfaces);
      if (interfaces.contains(Adapter1.NAME)) {
        adapter.ifPresent(a -> tell(new GattEvent.AdapterGone(a.name())));
      }
      if (interfaces.contains(Device1.NAME)) {
        peripheral.ifPresent(p -> tell(new GattEvent.Disconnected(p)));
      }
      if (interfaces.contains(GattCharacteristic1.NAME)) {
        characteristic.ifPresent(c -> tell(new GattEvent.Unresolved(c.peripheral())));
      }
    }
  }

  private void ownerChanged(DBus.NameOwnerChanged signal) {
    if (!BLUEZ.equals(signal.name)) {
      return;
    }
    synchronized (treeLock) {
      owner = signal.newOwner;
      order.restart();
      tree.clear();
      tell(new GattEvent.StackGone());
    }
    if (!signal.newOwner.isEmpty()) {
      // The answer comes by way of other threads, but the signal thread should not wait for it.
      Thread again = new Thread(this::loadAgain, "bluez load");
      again.setDaemon(true);
      again.start();
    }
  }

  private void loadAgain() {
    try {
      load();
    } catch (DBusException | RuntimeException e) {
      LOG.warn("the Bluetooth service is back but does not answer", e);
    }
  }

  private void slept(LoginManager.PrepareForSleep signal) {
    if (!signal.isBefore()) {
      tell(new GattEvent.Woke());
    }
  }

  @Override
  public List<Adapter> listAdapters() {
    synchronized (treeLock) {
      return tree.listPaths(Adapter1.NAME).stream()
          .flatMap(path -> tree.findAdapter(path).stream())
          .toList();
    }
  }

  @Override
  public List<Sighting> listSightings(String adapter) {
    synchronized (treeLock) {
      return tree.listPaths(Device1.NAME).stream()
          .flatMap(path -> tree.findSighting(path).stream())
          .filter(seen -> seen.peripheral().adapter().equals(adapter))
          .toList();
    }
  }

  @Override
  public void scan(String adapter) throws GattFailure {
    Adapter1 radio = radio(adapter);
    // Stopping makes BlueZ forget old signal strengths, so what is heard now is told as new.
    ask(radio::stopDiscovery, "NotScanning", "NotReady", "NotAuthorized", "InProgress");
    ask(() -> radio.setDiscoveryFilter(Map.of("Transport", new Variant<>("le"))));
    ask(radio::startDiscovery, "InProgress");
    for (Sighting known : listSightings(adapter)) {
      if (known.isConnected()) {
        tell(new GattEvent.Sighted(known));
      }
    }
  }

  @Override
  public void stopScan(String adapter) throws GattFailure {
    ask(radio(adapter)::stopDiscovery, "NotScanning", "NotReady", "NotAuthorized", "InProgress");
  }

  @Override
  public void connect(Peripheral peripheral) throws GattFailure {
    ask(device(peripheral)::connect, "AlreadyConnected");
  }

  @Override
  public void disconnect(Peripheral peripheral) throws GattFailure {
    ask(device(peripheral)::disconnect, "NotConnected");
  }

  @Override
  public List<Characteristic> listCharacteristics(Peripheral peripheral) {
    synchronized (treeLock) {
      return tree.findDevicePath(peripheral).filter(tree::isResolved).isPresent()
          ? tree.listCharacteristics(peripheral)
          : List.of();
    }
  }

  @Override
  public void subscribe(Characteristic characteristic) throws GattFailure {
    ask(characteristic(characteristic)::startNotify);
  }

  @Override
  public void unsubscribe(Characteristic characteristic) throws GattFailure {
    ask(characteristic(characteristic)::stopNotify, "Failed", "NotConnected");
  }

  @Override
  public Bytes read(Characteristic characteristic) throws GattFailure {
    GattCharacteristic1 remote = characteristic(characteristic);
    byte[][] value = new byte[1][];
    ask(() -> value[0] = remote.readValue(Map.of()));
    return Bytes.copyOf(value[0]);
  }

  @Override
  public void write(Characteristic characteristic, Bytes value, boolean isAnswered)
      throws GattFailure {
    GattCharacteristic1 remote = characteristic(characteristic);
    Map<String, Variant<?>> options =
        Map.of("type", new Variant<>(isAnswered ? "request" : "command"));
    ask(() -> remote.writeValue(value.toArray(), options));
  }

  @Override
  public void close() {
    isClosing = true;
    try {
      bus.close();
    } catch (IOException | RuntimeException e) {
      LOG.debug("leaving the message bus", e);
    }
  }

  private Adapter1 radio(String adapter) throws GattFailure {
    Optional<String> path;
    synchronized (treeLock) {
      path = tree.findAdapterPath(adapter);
    }
    return remote(path, Adapter1.class, "radio " + adapter + " is no longer there");
  }

  private Device1 device(Peripheral peripheral) throws GattFailure {
    Optional<String> path;
    synchronized (treeLock) {
      path = tree.findDevicePath(peripheral);
    }
    return remote(path, Device1.class, peripheral + " is no longer known");
  }

  private GattCharacteristic1 characteristic(Characteristic characteristic) throws GattFailure {
    Optional<String> path;
    synchronized (treeLock) {
      path = tree.findCharacteristicPath(characteristic);
    }
    return remote(
        path,
        GattCharacteristic1.class,
        characteristic.peripheral() + " does not offer " + characteristic.uuid() + " now");
  }

  private <T extends DBusInterface> T remote(
      Optional<String> path, Class<T> kind, String whyMissing) throws GattFailure {
    if (path.isEmpty()) {
      throw new GattFailure(whyMissing);
    }
    try {
      return bus.getRemoteObject(BLUEZ, path.get(), kind);
    } catch (DBusException e) {
      throw new GattFailure(whyMissing, e);
    }
  }

  /** Calls BlueZ; the error names given are as good as success. */
  private static void ask(Runnable call, String... harmless) throws GattFailure {
    try {
      call.run();
    } catch (DBusExecutionException e) {
      String type = typeOf(e);
      if (!List.of(harmless).contains(type)) {
        throw new GattFailure(words(type, e.getMessage()), e);
      }
    }
  }

  /**
   * The last word of the error's name, such as {@code InProgress}. The D-Bus library keeps only the
   * text of an error that it has no class for; BlueZ's texts are fixed (BlueZ, src/error.c).
   */
  private static String typeOf(DBusExecutionException e) {
    String name = e.getClass().getSimpleName();
    if (!name.equals(DBusExecutionException.class.getSimpleName())) {
      return name;
    }
    String text = Optional.ofNullable(e.getMessage()).orElse("").toLowerCase(Locale.ROOT);
    return BLUEZ_ERRORS.entrySet().stream()
        .filter(error -> text.contains(error.getKey()))
        .map(Map.Entry::getValue)
        .findFirst()
        .orElse("Failed");
  }

  private static String words(String type, @Nullable String detail) {
    return switch (type) {
      case "NotReady" -> "the radio is switched off";
      case "AccessDenied", "AuthFailed" -> "this account may not use Bluetooth";
      case "NotPermitted", "NotAuthorized", "AuthenticationFailed" ->
          "the scale wants to be paired first; pair it once in the system's Bluetooth settings";
      case "InProgress" -> "the system is still busy with it";
      case "UnknownObject", "DoesNotExist" -> "the system does not know it any more";
      case "NoReply", "Timeout" -> "the system gave no answer in time";
      default -> "the system says: " + (detail == null ? type : detail);
    };
  }

  /** The bus itself is gone. */
  private final class Cut implements IDisconnectCallback {
    @Override
    public void disconnectOnError(IOException cause) {
      LOG.warn("the message bus is gone", cause);
      tell(new GattEvent.StackGone());
    }
  }
}
