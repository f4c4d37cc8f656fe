package pourwright.device.ble.bluez;

import java.io.Closeable;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import org.freedesktop.dbus.DBusPath;
import org.freedesktop.dbus.bin.EmbeddedDBusDaemon;
import org.freedesktop.dbus.connections.impl.DBusConnection;
import org.freedesktop.dbus.connections.impl.DBusConnectionBuilder;
import org.freedesktop.dbus.exceptions.DBusException;
import org.freedesktop.dbus.exceptions.DBusExecutionException;
import org.freedesktop.dbus.interfaces.DBusInterface;
import org.freedesktop.dbus.interfaces.ObjectManager;
import org.freedesktop.dbus.interfaces.Properties;
import org.freedesktop.dbus.types.Variant;

/**
 * An org.bluez of one radio and one scale, on a message bus of its own: the system's dbus-daemon
 * where there is one, else the D-Bus library's.
 */
public final class FakeBluez implements AutoCloseable {
  public static final String SCALE = "AA:BB:CC:00:00:01";
  public static final String SERVICE = "0badcafe-0000-4000-8000-000000000001";
  public static final String WEIGHT = "0badcafe-0000-4000-8000-000000000002";
  public static final String COMMANDS = "0badcafe-0000-4000-8000-000000000003";
  private static final String BATTERY_SERVICE = "0000180f-0000-1000-8000-00805f9b34fb";
  private static final String BATTERY_LEVEL = "00002a19-0000-1000-8000-00805f9b34fb";

  private static final String RADIO = "/org/bluez/hci0";
  private static final String SECOND_RADIO = "/org/bluez/hci1";
  private static final String DEVICE = RADIO + "/dev_AA_BB_CC_00_00_01";
  private static final String WEIGHT_PATH = DEVICE + "/service0010/char0011";
  private static final String COMMANDS_PATH = DEVICE + "/service0010/char0014";
  private static final String BATTERY_PATH = DEVICE + "/service0020/char0021";
  private static final String SERVICE_FACE = "org.bluez.GattService1";

  private final Path folder;
  private final Closeable daemon;
  private final boolean isRealBus;
  private final String address;
  private final BlockingQueue<String> calls = new LinkedBlockingQueue<>();
  private final Map<String, Map<String, Map<String, Variant<?>>>> objects = new LinkedHashMap<>();
  private final DBusConnection bus;
  private final CountDownLatch closed = new CountDownLatch(1);
  private volatile boolean isPairingDemanded;
  private volatile boolean isDeaf;

  public FakeBluez() throws Exception {
    folder = Files.createTempDirectory("bus");
    address = "unix:path=" + folder.resolve("socket");
    Optional<Process> real = startDaemon(address);
    isRealBus = real.isPresent();
    if (real.isPresent()) {
      daemon = real.get()::destroy;
    } else {
      EmbeddedDBusDaemon own = new EmbeddedDBusDaemon(address + ",listen=true");
      own.startInBackgroundAndWait();
      daemon = own;
    }
    bus = DBusConnectionBuilder.forAddress(address).withShared(false).build();
    bus.exportObject("/", new Root());
    bus.exportObject(RADIO, new Radio(RADIO, ""));
    bus.exportObject(SECOND_RADIO, new Radio(SECOND_RADIO, " hci1"));
    bus.exportObject(DEVICE, new Device());
    bus.exportObject(WEIGHT_PATH, new Value("weight"));
    bus.exportObject(COMMANDS_PATH, new Value("commands"));
    bus.exportObject(BATTERY_PATH, new Value("battery"));
    put(RADIO, Adapter1.NAME, Map.of("Address", text("00:00:00:00:00:01"), "Powered", yes(true)));
    bus.requestBusName("org.bluez");
  }

  private static Optional<Process> startDaemon(String address) throws IOException {
    ProcessBuilder command =
        new ProcessBuilder(
            "dbus-daemon",
            "--session",
            "--nofork",
            "--nopidfile",
            "--print-address",
            "--address=" + address);
    command.redirectError(ProcessBuilder.Redirect.DISCARD);
    Process process;
    try {
      process = command.start();
    } catch (IOException notThere) {
      return Optional.empty();
    }
    // It has said its address when it listens.
    return process.inputReader().readLine() == null ? Optional.empty() : Optional.of(process);
  }

  /** Whether names that come and go are told; the D-Bus library's own bus does not do that well. */
  public boolean isRealBus() {
    return isRealBus;
  }

  public String address() {
    return address;
  }

  /** Waits until BlueZ was asked for something, in words such as {@code StartNotify weight}. */
  public void awaitCall(String wanted) throws InterruptedException {
    for (String call = ""; !call.equals(wanted); ) {
      call = calls.poll(20, TimeUnit.SECONDS);
      if (call == null) {
        throw new AssertionError("nobody asked for " + wanted);
      }
    }
  }

  /** What BlueZ is asked for next. */
  public String nextCall() throws InterruptedException {
    String call = calls.poll(20, TimeUnit.SECONDS);
    if (call == null) {
      throw new AssertionError("nobody asked for anything");
    }
    return call;
  }

  /** The scale is heard. */
  public void appear() throws DBusException {
    add(
        DEVICE,
        Device1.NAME,
        Map.of(
            "Address", text(SCALE),
            "Alias", text("Scale under test"),
            "UUIDs", new Variant<>(new String[] {SERVICE}, "as"),
            "RSSI", new Variant<>((short) -50),
            "Connected", yes(false),
            "ServicesResolved", yes(false)));
  }

  /** The scale is heard, but how strongly is not said. */
  public void appearWithoutStrength() throws DBusException {
    add(DEVICE, Device1.NAME, Map.of("Address", text(SCALE), "Connected", yes(false)));
  }

  /** The computer wakes from sleep. */
  public void wake() throws DBusException {
    bus.sendMessage(new LoginManager.PrepareForSleep("/org/freedesktop/login1", false));
  }

  /** Whoever is not paired may not listen, from now on. */
  public void demandPairing() {
    isPairingDemanded = true;
  }

  /** Whether the scale does not answer to subscriptions, from now on. */
  public void beDeaf(boolean isDeafNow) {
    isDeaf = isDeafNow;
  }

  /** The scale was connected before anyone asked, and is not announced. */
  public void beConnectedAlready() throws DBusException {
    add(
        DEVICE,
        Device1.NAME,
        Map.of(
            "Address", text(SCALE),
            "Alias", text("Scale under test"),
            "UUIDs", new Variant<>(new String[] {SERVICE}, "as"),
            "Connected", yes(true),
            "Paired", yes(true),
            "ServicesResolved", yes(true)));
    addValues();
  }

  /** The connection ends and BlueZ forgets the scale. */
  public void vanish() throws DBusException {
    withdraw();
    change(DEVICE, Device1.NAME, Map.of("ServicesResolved", yes(false)));
    change(DEVICE, Device1.NAME, Map.of("Connected", yes(false)));
    remove(DEVICE, Device1.NAME);
  }

  /** The scale ends the connection; BlueZ says so before what it offered is gone. */
  public void hangUp() throws DBusException {
    change(DEVICE, Device1.NAME, Map.of("Connected", yes(false)));
    vanish();
  }

  /** The scale's program ends while the connection stays. */
  public void withdraw() throws DBusException {
    remove(WEIGHT_PATH, GattCharacteristic1.NAME);
    remove(COMMANDS_PATH, GattCharacteristic1.NAME);
    remove(BATTERY_PATH, GattCharacteristic1.NAME);
  }

  /** The scale offers its values, after {@link #withdraw} again. */
  public void addValues() throws DBusException {
    add(WEIGHT_PATH.replace("/char0011", ""), SERVICE_FACE, Map.of("UUID", text(SERVICE)));
    add(BATTERY_PATH.replace("/char0021", ""), SERVICE_FACE, Map.of("UUID", text(BATTERY_SERVICE)));
    add(WEIGHT_PATH, GattCharacteristic1.NAME, Map.of("UUID", text(WEIGHT)));
    add(COMMANDS_PATH, GattCharacteristic1.NAME, Map.of("UUID", text(COMMANDS)));
    add(BATTERY_PATH, GattCharacteristic1.NAME, Map.of("UUID", text(BATTERY_LEVEL)));
  }

  /** Bluetooth is switched off or on; off ends the connection. */
  public void power(boolean isOn) throws DBusException {
    if (!isOn && objects.containsKey(DEVICE)) {
      vanish();
    }
    change(RADIO, Adapter1.NAME, Map.of("Powered", yes(isOn)));
  }

  public void weigh(byte[] value) throws DBusException {
    bus.sendMessage(
        new Properties.PropertiesChanged(
            WEIGHT_PATH,
            GattCharacteristic1.NAME,
            Map.of("Value", new Variant<>(value)),
            List.of()));
  }

  /** bluetoothd ends. */
  public void stop() throws DBusException {
    bus.releaseBusName("org.bluez");
    synchronized (objects) {
      objects.keySet().removeIf(path -> path.startsWith(DEVICE));
    }
  }

  /** bluetoothd is started again. */
  public void start() throws DBusException {
    bus.requestBusName("org.bluez");
  }

  /** The radio is pulled out. */
  public void pullRadio() throws DBusException {
    remove(RADIO, Adapter1.NAME);
  }

  /** The radio is plugged in again. */
  public void plugRadio() throws DBusException {
    add(RADIO, Adapter1.NAME, Map.of("Address", text("00:00:00:00:00:01"), "Powered", yes(true)));
  }

  /** Another radio, which does not hear the scale, is plugged in. */
  public void plugSecondRadio() throws DBusException {
    add(
        SECOND_RADIO,
        Adapter1.NAME,
        Map.of("Address", text("00:00:00:00:00:02"), "Powered", yes(true)));
  }

  @Override
  public void close() throws IOException {
    closed.countDown();
    bus.close();
    daemon.close();
    try (var files = Files.list(folder)) {
      for (Path file : files.toList()) {
        Files.deleteIfExists(file);
      }
    }
    Files.deleteIfExists(folder);
  }

  private static Variant<?> text(String value) {
    return new Variant<>(value);
  }

  private static Variant<?> yes(boolean value) {
    return new Variant<>(value);
  }

  private void put(String path, String face, Map<String, Variant<?>> properties) {
    synchronized (objects) {
      objects
          .computeIfAbsent(path, unseen -> new LinkedHashMap<>())
          .put(face, new HashMap<>(properties));
    }
  }

  private void add(String path, String face, Map<String, Variant<?>> properties)
      throws DBusException {
    put(path, face, properties);
    bus.sendMessage(
        new ObjectManager.InterfacesAdded("/", new DBusPath(path), Map.of(face, properties)));
  }

  private void remove(String path, String face) throws DBusException {
    synchronized (objects) {
      objects.remove(path);
    }
    bus.sendMessage(new ObjectManager.InterfacesRemoved("/", new DBusPath(path), List.of(face)));
  }

  private void change(String path, String face, Map<String, Variant<?>> changed)
      throws DBusException {
    synchronized (objects) {
      Map<String, Variant<?>> properties = objects.getOrDefault(path, Map.of()).get(face);
      if (properties == null) {
        return;
      }
      properties.putAll(changed);
    }
    bus.sendMessage(new Properties.PropertiesChanged(path, face, changed, List.of()));
  }

  private static DBusExecutionException refused(DBusException e) {
    return new DBusExecutionException(String.valueOf(e.getMessage()), e);
  }

  private final class Root implements ObjectManager {
    @Override
    public Map<DBusPath, Map<String, Map<String, Variant<?>>>> GetManagedObjects() {
      Map<DBusPath, Map<String, Map<String, Variant<?>>>> all = new LinkedHashMap<>();
      synchronized (objects) {
        objects.forEach(
            (path, faces) -> {
              Map<String, Map<String, Variant<?>>> copy = new HashMap<>();
              faces.forEach((face, properties) -> copy.put(face, new HashMap<>(properties)));
              all.put(new DBusPath(path), copy);
            });
      }
      return all;
    }

    @Override
    public boolean isRemote() {
      return false;
    }

    @Override
    public String getObjectPath() {
      return "/";
    }
  }

  private abstract static class Exported implements DBusInterface {
    @Override
    public boolean isRemote() {
      return false;
    }

    @Override
    public String getObjectPath() {
      return "";
    }
  }

  private final class Radio extends Exported implements Adapter1 {
    private final String path;
    private final String suffix; // of what it was asked for

    Radio(String path, String suffix) {
      this.path = path;
      this.suffix = suffix;
    }

    @Override
    public void setDiscoveryFilter(Map<String, Variant<?>> filter) {
      calls.add("SetDiscoveryFilter" + suffix);
    }

    @Override
    public void startDiscovery() {
      try {
        change(path, Adapter1.NAME, Map.of("Discovering", yes(true)));
      } catch (DBusException e) {
        throw refused(e);
      }
      calls.add("StartDiscovery" + suffix);
    }

    @Override
    public void stopDiscovery() {
      calls.add("StopDiscovery" + suffix);
      throw new DBusExecutionException("No discovery started");
    }
  }

  private final class Device extends Exported implements Device1 {
    @Override
    public void connect() {
      calls.add("Connect");
      try {
        change(DEVICE, Device1.NAME, Map.of("Connected", yes(true)));
        addValues();
        change(DEVICE, Device1.NAME, Map.of("ServicesResolved", yes(true)));
      } catch (DBusException e) {
        throw refused(e);
      }
    }

    @Override
    public void disconnect() {
      calls.add("Disconnect");
      try {
        vanish();
      } catch (DBusException e) {
        throw refused(e);
      }
    }
  }

  private final class Value extends Exported implements GattCharacteristic1 {
    private final String name;

    Value(String name) {
      this.name = name;
    }

    @Override
    public void startNotify() {
      calls.add("StartNotify " + name);
      if (isDeaf) {
        awaitEnd();
      }
      if (isPairingDemanded) {
        throw new DBusExecutionException("Operation failed with ATT error: not permitted");
      }
    }

    private void awaitEnd() {
      try {
        closed.await();
      } catch (InterruptedException told) {
        Thread.currentThread().interrupt();
      }
    }

    @Override
    public void stopNotify() {
      calls.add("StopNotify " + name);
    }

    @Override
    public byte[] readValue(Map<String, Variant<?>> options) {
      return new byte[] {77};
    }

    @Override
    public void writeValue(byte[] value, Map<String, Variant<?>> options) {
      calls.add("Write " + name + " " + new String(value, StandardCharsets.US_ASCII));
    }
  }
}
