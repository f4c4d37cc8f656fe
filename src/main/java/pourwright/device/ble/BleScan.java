package pourwright.device.ble;

import java.io.IOException;
import java.time.Duration;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import pourwright.device.ble.gatt.Adapter;
import pourwright.device.ble.gatt.GattCentral;
import pourwright.device.ble.gatt.GattEvent;
import pourwright.device.ble.gatt.GattFailure;
import pourwright.device.ble.gatt.Sighting;

/** Looks around for Bluetooth LE devices. */
public final class BleScan {
  private BleScan() {}

  /**
   * Everything heard within {@code patience}, strongest first.
   *
   * @param radio the system's name of the radio to use; empty takes the first that is switched on
   * @throws IOException when this computer has no Bluetooth to use; one plain sentence
   */
  public static List<Sighting> listInReach(
      Duration patience, Optional<String> radio, BleBackend backend)
      throws IOException, InterruptedException {
    return listInReach(patience, radio, backend::open);
  }

  static List<Sighting> listInReach(
      Duration patience, Optional<String> radio, BleTransport.Opening opening)
      throws IOException, InterruptedException {
    BlockingQueue<GattEvent> said = new LinkedBlockingQueue<>();
    try (GattCentral central = opening.open(said::add)) {
      String adapter = chooseAdapter(central.listAdapters(), radio);
      central.scan(adapter);
      Map<String, Sighting> found = new TreeMap<>();
      long end = System.nanoTime() + patience.toNanos();
      for (long left = patience.toNanos(); left > 0; left = end - System.nanoTime()) {
        if (said.poll(left, TimeUnit.NANOSECONDS) instanceof GattEvent.Sighted seen
            && seen.sighting().isInReach()
            && seen.sighting().peripheral().adapter().equals(adapter)) {
          found.put(seen.sighting().peripheral().address(), seen.sighting());
        }
      }
      central.stopScan(adapter);
      return found.values().stream()
          .sorted(
              Comparator.comparingInt(
                  (Sighting seen) -> -seen.strength().orElse(Integer.MIN_VALUE + 1)))
          .toList();
    }
  }

  private static String chooseAdapter(List<Adapter> adapters, Optional<String> radio)
      throws GattFailure {
    Radios.check(adapters, radio);
    return adapters.stream()
        .filter(adapter -> radio.isEmpty() || adapter.name().equals(radio.get()))
        .filter(Adapter::isOn)
        .map(Adapter::name)
        .findFirst()
        .orElseThrow(() -> new GattFailure("Bluetooth is switched off; switch it on"));
  }
}
