package pourwright.device.ble.bluez;

import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.freedesktop.dbus.DBusPath;
import org.freedesktop.dbus.types.Variant;
import pourwright.device.ble.gatt.Adapter;
import pourwright.device.ble.gatt.Characteristic;
import pourwright.device.ble.gatt.Peripheral;
import pourwright.device.ble.gatt.Sighting;

/**
 * What BlueZ has told of its objects: path, interface, property, value. Guarded by its owner.
 *
 * <p>Values may be missing at any time, so each look answers with what is there.
 */
final class ObjectTree {
  private final Map<String, Map<String, Map<String, Object>>> objects = new TreeMap<>();

  void clear() {
    objects.clear();
  }

  void add(String path, Map<String, Map<String, Variant<?>>> interfaces) {
    Map<String, Map<String, Object>> object =
        objects.computeIfAbsent(path, unseen -> new HashMap<>());
    interfaces.forEach((name, properties) -> object.put(name, plain(properties)));
  }

  void remove(String path, Collection<String> interfaces) {
    Map<String, Map<String, Object>> object = objects.get(path);
    if (object != null) {
      object.keySet().removeAll(interfaces);
      if (object.isEmpty()) {
        objects.remove(path);
      }
    }
  }

  void change(
      String path, String face, Map<String, Variant<?>> changed, Collection<String> removed) {
    Map<String, Object> properties =
        objects
            .computeIfAbsent(path, unseen -> new HashMap<>())
            .computeIfAbsent(face, unseen -> new HashMap<>());
    properties.putAll(plain(changed));
    properties.keySet().removeAll(removed);
  }

  private static Map<String, Object> plain(Map<String, Variant<?>> properties) {
    Map<String, Object> plain = new HashMap<>();
    properties.forEach((name, variant) -> plain.put(name, variant.getValue()));
    return plain;
  }

  /** Whether an object has this interface now. */
  boolean has(String path, String face) {
    return objects.getOrDefault(path, Map.of()).containsKey(face);
  }

  List<String> listPaths(String face) {
    return objects.entrySet().stream()
        .filter(object -> object.getValue().containsKey(face))
        .map(Map.Entry::getKey)
        .toList();
  }

  Optional<Adapter> findAdapter(String path) {
    return has(path, Adapter1.NAME)
        ? Optional.of(
            new Adapter(
                lastOf(path),
                findText(path, Adapter1.NAME, "Address").orElse(""),
                isSet(path, Adapter1.NAME, "Powered")))
        : Optional.empty();
  }

  Optional<String> findAdapterPath(String name) {
    return listPaths(Adapter1.NAME).stream().filter(path -> lastOf(path).equals(name)).findFirst();
  }

  Optional<Peripheral> findPeripheral(String devicePath) {
    return findText(devicePath, Device1.NAME, "Address")
        .map(address -> new Peripheral(lastOf(parentOf(devicePath)), address));
  }

  Optional<String> findDevicePath(Peripheral peripheral) {
    return listPaths(Device1.NAME).stream()
        .filter(path -> findPeripheral(path).filter(peripheral::equals).isPresent())
        .findFirst();
  }

  Optional<Sighting> findSighting(String devicePath) {
    return findPeripheral(devicePath)
        .map(
            peripheral ->
                new Sighting(
                    peripheral,
                    findText(devicePath, Device1.NAME, "Alias").orElse(peripheral.address()),
                    rssi(devicePath),
                    services(devicePath),
                    isSet(devicePath, Device1.NAME, "Connected"),
                    isSet(devicePath, Device1.NAME, "Bonded")
                        || isSet(devicePath, Device1.NAME, "Paired")));
  }

  private OptionalInt rssi(String devicePath) {
    return find(devicePath, Device1.NAME, "RSSI").orElse(null) instanceof Number strength
        ? OptionalInt.of(strength.intValue())
        : OptionalInt.empty();
  }

  private Set<UUID> services(String devicePath) {
    Object known = find(devicePath, Device1.NAME, "UUIDs").orElse(null);
    Stream<?> texts =
        known instanceof Collection<?> list
            ? list.stream()
            : known instanceof Object[] array ? Stream.of(array) : Stream.empty();
    return texts.flatMap(text -> findUuid(text).stream()).collect(Collectors.toSet());
  }

  boolean isDiscovering(String adapterPath) {
    return isSet(adapterPath, Adapter1.NAME, "Discovering");
  }

  boolean isConnected(String devicePath) {
    return isSet(devicePath, Device1.NAME, "Connected");
  }

  boolean isResolved(String devicePath) {
    return isSet(devicePath, Device1.NAME, "ServicesResolved");
  }

  Optional<Characteristic> findCharacteristic(String path) {
    String servicePath = parentOf(path);
    Optional<Peripheral> peripheral = findPeripheral(parentOf(servicePath));
    Optional<UUID> service =
        findText(servicePath, "org.bluez.GattService1", "UUID").flatMap(ObjectTree::findUuid);
    Optional<UUID> uuid =
        findText(path, GattCharacteristic1.NAME, "UUID").flatMap(ObjectTree::findUuid);
    return peripheral.isPresent() && service.isPresent() && uuid.isPresent()
        ? Optional.of(new Characteristic(peripheral.get(), service.get(), uuid.get()))
        : Optional.empty();
  }

  Optional<String> findCharacteristicPath(Characteristic wanted) {
    return listPaths(GattCharacteristic1.NAME).stream()
        .filter(path -> findCharacteristic(path).filter(wanted::equals).isPresent())
        .findFirst();
  }

  List<Characteristic> listCharacteristics(Peripheral peripheral) {
    List<Characteristic> found = new ArrayList<>();
    for (String path : listPaths(GattCharacteristic1.NAME)) {
      findCharacteristic(path)
          .filter(characteristic -> characteristic.peripheral().equals(peripheral))
          .ifPresent(found::add);
    }
    return found;
  }

  private Optional<Object> find(String path, String face, String property) {
    return Optional.ofNullable(
        objects.getOrDefault(path, Map.of()).getOrDefault(face, Map.of()).get(property));
  }

  private Optional<String> findText(String path, String face, String property) {
    return find(path, face, property).map(ObjectTree::text);
  }

  private boolean isSet(String path, String face, String property) {
    return find(path, face, property).filter(Boolean.TRUE::equals).isPresent();
  }

  private static String text(Object value) {
    return value instanceof DBusPath path ? path.getPath() : value.toString();
  }

  private static Optional<UUID> findUuid(Object text) {
    try {
      return Optional.of(UUID.fromString(text.toString()));
    } catch (IllegalArgumentException notOne) {
      return Optional.empty();
    }
  }

  static String lastOf(String path) {
    return path.substring(path.lastIndexOf('/') + 1);
  }

  static String parentOf(String path) {
    int slash = path.lastIndexOf('/');
    return slash <= 0 ? "/" : path.substring(0, slash);
  }
}
