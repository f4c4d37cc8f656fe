package pourwright.device.ble;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import pourwright.device.ble.gatt.Adapter;
import pourwright.device.ble.gatt.GattFailure;

/** The radios of this computer, and which of them a link is to use. */
final class Radios {
  private final Optional<String> wanted;
  private final Map<String, Adapter> there = new TreeMap<>();
  private String weighedOn = "";

  /**
   * None yet.
   *
   * @param wanted the system's name of the only one to use; empty takes any
   */
  Radios(Optional<String> wanted) {
    this.wanted = wanted;
  }

  /**
   * Makes sure that there is one to wait for, on or off.
   *
   * @param wanted the system's name of the one to use; empty takes any
   * @throws GattFailure when there is none; one plain clause
   */
  static void check(List<Adapter> there, Optional<String> wanted) throws GattFailure {
    if (there.isEmpty()) {
      throw new GattFailure("this computer has no Bluetooth radio; plug one in, or use a cable");
    }
    if (wanted.isPresent() && there.stream().noneMatch(one -> one.name().equals(wanted.get()))) {
      throw new GattFailure(
          "there is no Bluetooth radio "
              + wanted.get()
              + "; there is "
              + String.join(", ", there.stream().map(Adapter::name).toList()));
    }
  }

  /** One came or was switched. */
  void put(Adapter radio) {
    there.put(radio.name(), radio);
  }

  /** One was taken out. */
  void remove(String name) {
    there.remove(name);
  }

  /** All are gone. */
  void clear() {
    there.clear();
  }

  /** The scale weighs on this one, so it is worth returning to. */
  void weighsOn(String name) {
    weighedOn = name;
  }

  /**
   * The radio to use now; empty when there is none.
   *
   * <p>The one in use stays so while it is on; else it is the first that is. The one that the scale
   * weighed on is gone back to when it returns, unless the scale is held on another by then. One
   * that its user switched off will be switched on again; another is no substitute for it.
   *
   * @param inUse name of the one in use; empty before there was one
   * @param isHeld whether the scale is connected on it
   */
  Optional<String> choose(String inUse, boolean isHeld) {
    Adapter same = there.get(inUse);
    if (same != null && !same.isOn()) {
      return Optional.empty();
    }
    if (!isHeld && isUsable(weighedOn)) {
      return Optional.of(weighedOn);
    }
    return isUsable(inUse)
        ? Optional.of(inUse)
        : there.keySet().stream().filter(this::isUsable).findFirst();
  }

  private boolean isUsable(String name) {
    Adapter radio = there.get(name);
    return radio != null && radio.isOn() && wanted.filter(only -> !only.equals(name)).isEmpty();
  }

  /** Why there is none to use, in one plain clause. */
  String whyNone() {
    return there.isEmpty() ? "the Bluetooth radio is gone" : "Bluetooth is switched off";
  }
}
