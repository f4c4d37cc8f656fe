package pourwright.device.ble;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import pourwright.device.BleSettings;
import pourwright.device.Bytes;
import pourwright.device.Chunk;
import pourwright.device.SessionClock;
import pourwright.device.Transport.Arrival;
import pourwright.device.ble.bluez.BluezCentral;
import pourwright.device.ble.bluez.FakeBluez;
import pourwright.device.ble.gatt.Characteristic;
import pourwright.device.ble.gatt.Peripheral;
import pourwright.device.ble.gatt.Sighting;
import pourwright.device.ble.link.LinkLimits;
import pourwright.device.ble.link.LinkState.Rules;
import pourwright.device.ble.link.Wanted;
import pourwright.units.SessionTime;

/** The whole link against a BlueZ on a message bus of its own. */
@Timeout(120)
class BleTransportTest {
  private static final Duration PATIENCE = Duration.ofMillis(200);

  private FakeBluez bluez;
  private final List<BleTransport> open = new ArrayList<>();

  @BeforeEach
  void begin() throws Exception {
    bluez = new FakeBluez();
  }

  @AfterEach
  void end() throws Exception {
    open.forEach(BleTransport::close);
    bluez.close();
  }

  private static BleSettings settings() {
    return BleSettings.listening(
        UUID.fromString(FakeBluez.SERVICE), UUID.fromString(FakeBluez.WEIGHT));
  }

  private static BleSettings writable(Optional<BleSettings.KeepAlive> keepAlive) {
    return new BleSettings(
        UUID.fromString(FakeBluez.SERVICE),
        UUID.fromString(FakeBluez.WEIGHT),
        Optional.of(UUID.fromString(FakeBluez.COMMANDS)),
        true,
        keepAlive,
        true,
        BleSettings.USUAL_QUIET);
  }

  private BleTransport link(BleSettings settings, Optional<Bytes> start) throws IOException {
    Rules rules =
        new Rules(
            new Wanted(Optional.of(FakeBluez.SCALE), settings.service()),
            LinkLimits.usual(settings.quiet()));
    BleTransport link =
        BleTransport.open(
            settings,
            start,
            Optional.empty(),
            rules,
            SessionClock.start(),
            listener -> BluezCentral.openAt(bluez.address(), listener));
    open.add(link);
    return link;
  }

  private BleTransport weighing() throws Exception {
    BleTransport link = link(settings(), Optional.empty());
    bluez.awaitCall("StartDiscovery");
    bluez.appear();
    bluez.awaitCall("StartNotify weight");
    bluez.weigh(numbered(0));
    assertThat(numberOf(next(link, Arrival.Received.class).chunk())).isZero();
    return link;
  }

  private static byte[] numbered(int number) {
    return ByteBuffer.allocate(4).putInt(number).array();
  }

  private static int numberOf(Chunk chunk) {
    return ByteBuffer.wrap(chunk.bytes().toArray()).getInt();
  }

  /** The next arrival of a kind; silence and battery are passed over, anything else is wrong. */
  private static <T extends Arrival> T next(BleTransport link, Class<T> kind)
      throws InterruptedException {
    while (true) {
      Arrival arrival = link.receive(PATIENCE);
      if (kind.isInstance(arrival)) {
        return kind.cast(arrival);
      }
      assertThat(arrival).isInstanceOfAny(Arrival.Silence.class, Arrival.Charged.class);
    }
  }

  /** It is asked to send, and sends. */
  private void weighsAgain(BleTransport link) throws Exception {
    bluez.awaitCall("StartNotify weight");
    bluez.weigh(numbered(1));
    next(link, Arrival.Restored.class);
    next(link, Arrival.Received.class);
  }

  @Test
  void weights_come_whole_and_in_order_even_to_a_slow_taker() throws Exception {
    BleTransport link = weighing();
    for (int i = 1; i <= 2_000; i++) {
      bluez.weigh(numbered(i));
    }
    SessionTime before = SessionTime.ZERO;
    for (int i = 1; i <= 2_000; i++) {
      Chunk chunk = next(link, Arrival.Received.class).chunk();
      assertThat(numberOf(chunk)).isEqualTo(i);
      assertThat(chunk.at()).isGreaterThanOrEqualTo(before);
      before = chunk.at();
    }
  }

  @Test
  void a_lost_scale_is_told_once_and_taken_again() throws Exception {
    BleTransport link = weighing();
    bluez.vanish();
    Arrival.Lost lost = next(link, Arrival.Lost.class);
    assertThat(lost.why()).contains(FakeBluez.SCALE, "by itself").doesNotContain("\n");
    bluez.awaitCall("StartDiscovery");
    bluez.appear();
    bluez.awaitCall("StartNotify weight");
    bluez.weigh(numbered(1));
    next(link, Arrival.Restored.class);
    assertThat(numberOf(next(link, Arrival.Received.class).chunk())).isEqualTo(1);
  }

  @Test
  void silence_while_connected_is_told_within_two_seconds_and_the_subscription_renewed()
      throws Exception {
    BleTransport link = weighing();
    SessionTime spoke = next(link, Arrival.Silence.class).at();
    Arrival.Lost lost = next(link, Arrival.Lost.class);
    assertThat(lost.at().since(spoke)).isLessThan(Duration.ofSeconds(2));
    bluez.awaitCall("StopNotify weight");
    weighsAgain(link);
  }

  @Test
  void a_scale_that_does_not_even_answer_is_let_go_and_taken_anew() throws Exception {
    BleTransport link = weighing();
    bluez.beDeaf(true);
    next(link, Arrival.Lost.class);
    bluez.awaitCall("StopNotify weight");
    assertThat(bluez.nextCall()).isEqualTo("StartNotify weight");
    assertThat(bluez.nextCall()).isEqualTo("Disconnect");
    bluez.beDeaf(false);
    bluez.awaitCall("StartDiscovery");
    bluez.appear();
    weighsAgain(link);
  }

  @Test
  void a_scale_whose_program_ends_is_subscribed_anew_when_it_is_back() throws Exception {
    BleTransport link = weighing();
    bluez.withdraw();
    next(link, Arrival.Lost.class);
    bluez.addValues();
    weighsAgain(link);
  }

  @Test
  void bluetooth_switched_off_and_on_brings_the_scale_back() throws Exception {
    BleTransport link = weighing();
    bluez.power(false);
    next(link, Arrival.Lost.class);
    bluez.power(true);
    bluez.awaitCall("StartDiscovery");
    bluez.appear();
    weighsAgain(link);
  }

  @Test
  void a_radio_pulled_out_and_plugged_in_brings_the_scale_back() throws Exception {
    BleTransport link = weighing();
    bluez.vanish();
    bluez.pullRadio();
    next(link, Arrival.Lost.class);
    bluez.plugRadio();
    bluez.awaitCall("StartDiscovery");
    bluez.appear();
    weighsAgain(link);
  }

  @Test
  void a_radio_that_returns_is_preferred_to_the_one_that_stood_in_for_it() throws Exception {
    BleTransport link = weighing();
    bluez.plugSecondRadio();
    bluez.vanish();
    bluez.pullRadio();
    next(link, Arrival.Lost.class);
    bluez.awaitCall("StartDiscovery hci1");
    bluez.plugRadio();
    bluez.awaitCall("StartDiscovery");
    bluez.appear();
    weighsAgain(link);
  }

  @Test
  void a_bluetooth_service_that_is_restarted_brings_the_scale_back() throws Exception {
    assumeTrue(bluez.isRealBus(), "needs dbus-daemon");
    BleTransport link = weighing();
    bluez.stop();
    assertThat(next(link, Arrival.Lost.class).why()).contains("service stopped");
    bluez.start();
    bluez.awaitCall("StartDiscovery");
    bluez.appear();
    weighsAgain(link);
  }

  @Test
  void a_paired_scale_that_is_connected_already_is_taken_over() throws Exception {
    bluez.beConnectedAlready();
    BleTransport link = link(settings(), Optional.empty());
    bluez.awaitCall("StartNotify weight");
    bluez.weigh(numbered(1));
    assertThat(numberOf(next(link, Arrival.Received.class).chunk())).isEqualTo(1);
  }

  @Test
  void a_scale_heard_at_no_known_strength_is_taken_all_the_same() throws Exception {
    BleTransport link = link(settings(), Optional.empty());
    bluez.awaitCall("StartDiscovery");
    bluez.appearWithoutStrength();
    bluez.awaitCall("StartNotify weight");
    bluez.weigh(numbered(1));
    assertThat(numberOf(next(link, Arrival.Received.class).chunk())).isEqualTo(1);
  }

  @Test
  void a_computer_that_wakes_looks_for_the_scale_at_once() throws Exception {
    link(settings(), Optional.empty());
    bluez.awaitCall("StartDiscovery");
    bluez.wake();
    bluez.awaitCall("StartDiscovery");
  }

  @Test
  void a_scale_that_wants_to_be_paired_says_so_in_one_line() throws Exception {
    bluez.beConnectedAlready();
    bluez.demandPairing();
    try (BluezCentral central = BluezCentral.openAt(bluez.address(), event -> {})) {
      Characteristic weight =
          central.listCharacteristics(new Peripheral("hci0", FakeBluez.SCALE)).stream()
              .filter(one -> one.uuid().equals(settings().weight()))
              .findFirst()
              .orElseThrow();
      assertThatThrownBy(() -> central.subscribe(weight))
          .isInstanceOf(IOException.class)
          .hasMessageContaining("paired first");
    }
  }

  @Test
  void a_scale_that_ends_the_connection_when_asked_to_send_may_want_to_be_paired()
      throws Exception {
    BleTransport link = link(settings(), Optional.empty());
    bluez.beDeaf(true);
    bluez.awaitCall("StartDiscovery");
    bluez.appear();
    bluez.awaitCall("StartNotify weight");
    bluez.hangUp();
    assertThat(next(link, Arrival.Lost.class).why()).contains("paired first");
  }

  @Test
  void a_look_around_tells_what_is_heard_and_how_strongly() throws Exception {
    CompletableFuture<List<Sighting>> heard =
        CompletableFuture.supplyAsync(
            () -> {
              try {
                return BleScan.listInReach(
                    Duration.ofSeconds(2),
                    Optional.of("hci0"),
                    listener -> BluezCentral.openAt(bluez.address(), listener));
              } catch (IOException | InterruptedException e) {
                throw new CompletionException(e);
              }
            });
    bluez.awaitCall("StartDiscovery");
    bluez.appear();
    assertThat(heard.get())
        .singleElement()
        .satisfies(
            seen -> {
              assertThat(seen.peripheral().address()).isEqualTo(FakeBluez.SCALE);
              assertThat(seen.strength()).hasValue(-50);
              assertThat(seen.services()).contains(settings().service());
            });
  }

  @Test
  void a_radio_that_is_not_there_is_refused_by_name() {
    assertThatThrownBy(
            () ->
                BleScan.listInReach(
                    Duration.ofSeconds(1),
                    Optional.of("hci7"),
                    listener -> BluezCentral.openAt(bluez.address(), listener)))
        .isInstanceOf(IOException.class)
        .hasMessage("there is no Bluetooth radio hci7; there is hci0");
  }

  @Test
  void start_tare_and_keep_alive_are_written_where_the_profile_says() throws Exception {
    BleTransport link =
        link(
            writable(
                Optional.of(
                    new BleSettings.KeepAlive(Bytes.ofAscii("stay"), Duration.ofMillis(300)))),
            Optional.of(Bytes.ofAscii("go")));
    bluez.awaitCall("StartDiscovery");
    bluez.appear();
    bluez.awaitCall("Write commands go");
    bluez.awaitCall("Write commands stay");
    bluez.awaitCall("Write commands stay");
    link.send(Bytes.ofAscii("tare"));
    bluez.awaitCall("Write commands tare");
  }

  @Test
  void a_command_without_a_connection_is_refused_in_words() throws Exception {
    BleTransport link = link(writable(Optional.empty()), Optional.empty());
    assertThatThrownBy(() -> link.send(Bytes.ofAscii("tare")))
        .isInstanceOf(IOException.class)
        .hasMessageContaining("not connected");
  }

  @Test
  void the_battery_is_told_beside_the_weights() throws Exception {
    BleTransport link = link(settings(), Optional.empty());
    bluez.awaitCall("StartDiscovery");
    bluez.appear();
    bluez.awaitCall("StartNotify weight");
    Arrival arrival = link.receive(PATIENCE);
    while (!(arrival instanceof Arrival.Charged)) {
      arrival = link.receive(PATIENCE);
    }
    assertThat(((Arrival.Charged) arrival).batteryPercent()).isEqualTo(77);
  }

  @Test
  void a_computer_without_a_radio_says_so_in_one_line() throws Exception {
    bluez.pullRadio();
    assertThatThrownBy(() -> link(settings(), Optional.empty()))
        .isInstanceOf(IOException.class)
        .hasMessageContaining("no Bluetooth radio");
  }

  @Test
  void a_bluetooth_service_that_is_not_running_says_so_in_one_line() throws Exception {
    bluez.stop();
    assertThatThrownBy(() -> link(settings(), Optional.empty()))
        .isInstanceOf(IOException.class)
        .hasMessageContaining("not running");
  }

  @Test
  void a_system_without_a_message_bus_says_so_in_one_line() {
    assertThatThrownBy(() -> BluezCentral.openAt("unix:path=/nowhere/at/all", event -> {}))
        .isInstanceOf(IOException.class)
        .hasMessageContaining("no message bus");
  }
}
