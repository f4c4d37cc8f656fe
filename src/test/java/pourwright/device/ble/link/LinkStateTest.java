package pourwright.device.ble.link;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.UUID;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import pourwright.device.ble.gatt.Peripheral;
import pourwright.device.ble.gatt.Sighting;
import pourwright.device.ble.link.LinkState.Listening;
import pourwright.device.ble.link.LinkState.Rules;
import pourwright.device.ble.link.LinkState.Step;
import pourwright.units.SessionTime;

class LinkStateTest {
  private static final UUID SERVICE = UUID.fromString("0badcafe-0000-4000-8000-000000000001");
  private static final Peripheral SCALE = new Peripheral("hci0", "AA:00:00:00:00:01");
  private static final Peripheral OTHER = new Peripheral("hci0", "AA:00:00:00:00:02");
  private static final Duration QUIET = Duration.ofMillis(1500);
  private static final Rules ONE =
      new Rules(new Wanted(Optional.of(SCALE.address()), SERVICE), LinkLimits.usual(QUIET));
  private static final Rules ANY =
      new Rules(new Wanted(Optional.empty(), SERVICE), LinkLimits.usual(QUIET));

  /** Plays events and time against the machine. */
  private static final class Life {
    private final Rules rules;
    private LinkState state = LinkState.initial();
    private SessionTime now = SessionTime.ZERO;
    private List<LinkOrder> orders = List.of();
    private String reason = "";

    Life(Rules rules) {
      this.rules = rules;
    }

    Life hear(LinkEvent event) {
      Step step = state.on(event, now, rules);
      state = step.next();
      orders = step.orders();
      reason = step.reason();
      return this;
    }

    /** Lets time pass in ticks until something is ordered or the wait is over. */
    Life pass(Duration wait) {
      SessionTime end = now.plus(wait);
      orders = List.of();
      while (now.isBefore(end) && orders.isEmpty()) {
        now = now.plus(Duration.ofMillis(100));
        hear(new LinkEvent.Tick());
      }
      return this;
    }

    Life weighing() {
      return hear(new LinkEvent.RadioOn("hci0"))
          .hear(new LinkEvent.Sighted(seen(SCALE, -50)))
          .hear(new LinkEvent.Done())
          .hear(new LinkEvent.Ready(SCALE))
          .hear(new LinkEvent.Done())
          .hear(new LinkEvent.Heard(SCALE));
    }
  }

  private static Sighting seen(Peripheral peripheral, int rssi, UUID... services) {
    return new Sighting(peripheral, "one", OptionalInt.of(rssi), Set.of(services), false, false);
  }

  private static Sighting remembered(Peripheral peripheral, boolean isConnected) {
    return new Sighting(peripheral, "one", OptionalInt.empty(), Set.of(SERVICE), isConnected, true);
  }

  @Test
  void the_usual_way_goes_from_the_search_to_weights() {
    Life life = new Life(ONE);
    assertThat(life.hear(new LinkEvent.RadioOn("hci0")).orders)
        .containsExactly(new LinkOrder.Search("hci0"));
    assertThat(life.hear(new LinkEvent.Sighted(seen(OTHER, -30, SERVICE))).orders).isEmpty();
    assertThat(life.hear(new LinkEvent.Sighted(seen(SCALE, -50))).orders)
        .containsExactly(new LinkOrder.Connect(SCALE));
    assertThat(life.hear(new LinkEvent.Done()).orders)
        .containsExactly(new LinkOrder.Inspect(SCALE));
    assertThat(life.hear(new LinkEvent.Ready(SCALE)).orders)
        .containsExactly(new LinkOrder.Subscribe(SCALE));
    assertThat(life.hear(new LinkEvent.Done()).state.word()).isEqualTo("listening");
    assertThat(life.hear(new LinkEvent.Heard(SCALE)).state.word()).isEqualTo("weighing");
  }

  @Test
  void the_strongest_that_offers_the_service_is_taken_after_a_look_around() {
    Life life = new Life(ANY).hear(new LinkEvent.RadioOn("hci0"));
    life.hear(new LinkEvent.Sighted(seen(OTHER, -80, SERVICE)));
    life.hear(new LinkEvent.Sighted(seen(SCALE, -40, SERVICE)));
    life.hear(new LinkEvent.Sighted(seen(OTHER, -70, SERVICE)));
    life.hear(new LinkEvent.Sighted(seen(new Peripheral("hci0", "TV"), -10)));
    assertThat(life.state.word()).isEqualTo("searching");
    assertThat(life.pass(Duration.ofSeconds(2)).orders)
        .containsExactly(new LinkOrder.Connect(SCALE));
  }

  @Test
  void a_scale_that_does_not_announce_the_service_is_looked_into_and_passed_over_if_unfit() {
    Life life = new Life(ANY).hear(new LinkEvent.RadioOn("hci0"));
    life.hear(new LinkEvent.Sighted(seen(OTHER, -30, Wanted.ANY_SCALE)));
    assertThat(life.pass(Duration.ofSeconds(4)).orders)
        .containsExactly(new LinkOrder.Connect(OTHER));
    life.hear(new LinkEvent.Done());
    assertThat(life.hear(new LinkEvent.Unfit(OTHER)).orders).isEmpty();
    assertThat(life.pass(Duration.ofSeconds(3)).orders)
        .containsExactly(new LinkOrder.Disconnect(OTHER));
    life.hear(new LinkEvent.Done()).pass(Duration.ofSeconds(1));
    life.hear(new LinkEvent.Sighted(seen(OTHER, -30, Wanted.ANY_SCALE)));
    assertThat(life.pass(Duration.ofSeconds(6)).state.word()).isEqualTo("searching");
    life.hear(new LinkEvent.Sighted(seen(SCALE, -60, Wanted.ANY_SCALE)));
    assertThat(life.pass(Duration.ofSeconds(4)).orders)
        .containsExactly(new LinkOrder.Connect(SCALE));
  }

  @Test
  void a_device_that_is_only_remembered_is_not_called() {
    Life life = new Life(ONE).hear(new LinkEvent.RadioOn("hci0"));
    assertThat(life.hear(new LinkEvent.Sighted(remembered(SCALE, false))).orders).isEmpty();
  }

  @Test
  void a_device_that_is_connected_already_is_taken_over() {
    Life life = new Life(ONE).hear(new LinkEvent.RadioOn("hci0"));
    assertThat(life.hear(new LinkEvent.Sighted(remembered(SCALE, true))).orders)
        .containsExactly(new LinkOrder.Connect(SCALE));
  }

  @Test
  void services_that_become_known_bit_by_bit_are_waited_for() {
    Life life = new Life(ONE).hear(new LinkEvent.RadioOn("hci0"));
    life.hear(new LinkEvent.Sighted(seen(SCALE, -50))).hear(new LinkEvent.Done());
    life.hear(new LinkEvent.Unfit(SCALE)).pass(Duration.ofSeconds(1));
    assertThat(life.hear(new LinkEvent.Ready(SCALE)).orders)
        .containsExactly(new LinkOrder.Subscribe(SCALE));
  }

  @Test
  void a_lost_connection_leads_back_to_the_search_after_a_breath() {
    Life life = new Life(ONE).weighing();
    assertThat(life.hear(new LinkEvent.Disconnected(SCALE)).orders).isEmpty();
    assertThat(life.reason).contains("connection ended");
    SessionTime lost = life.now;
    assertThat(life.pass(Duration.ofSeconds(2)).orders)
        .containsExactly(new LinkOrder.Search("hci0"));
    assertThat(life.now.since(lost)).isLessThanOrEqualTo(Duration.ofMillis(600));
  }

  @Test
  void another_device_changes_nothing() {
    Life life = new Life(ONE).weighing();
    LinkState before = life.state;
    life.hear(new LinkEvent.Disconnected(OTHER));
    life.hear(new LinkEvent.Heard(OTHER));
    life.hear(new LinkEvent.Withdrawn(OTHER));
    life.hear(new LinkEvent.Ready(OTHER));
    assertThat(life.state).isEqualTo(before);
  }

  @Test
  void silence_while_connected_renews_the_subscription_and_then_the_connection() {
    Life life = new Life(ONE).weighing();
    assertThat(life.pass(QUIET.minusMillis(100)).state.word()).isEqualTo("weighing");
    assertThat(life.pass(Duration.ofMillis(100)).orders)
        .containsExactly(new LinkOrder.Renew(SCALE));
    assertThat(life.state.word()).isEqualTo("silent");
    life.hear(new LinkEvent.Done());
    assertThat(life.pass(Duration.ofSeconds(3)).orders).containsExactly(new LinkOrder.Renew(SCALE));
    life.hear(new LinkEvent.Done());
    assertThat(life.pass(Duration.ofSeconds(3)).orders)
        .containsExactly(new LinkOrder.Disconnect(SCALE));
    life.hear(new LinkEvent.Disconnected(SCALE));
    assertThat(life.pass(Duration.ofSeconds(1)).orders)
        .containsExactly(new LinkOrder.Search("hci0"));
  }

  @Test
  void a_renewed_subscription_that_is_not_answered_is_not_renewed_again() {
    Life life = new Life(ONE).weighing().pass(QUIET);
    assertThat(life.orders).containsExactly(new LinkOrder.Renew(SCALE));
    assertThat(life.pass(Duration.ofSeconds(2)).orders)
        .containsExactly(new LinkOrder.Disconnect(SCALE));
    assertThat(life.reason).contains("does not even answer");
  }

  @Test
  void a_scale_that_speaks_again_may_still_owe_an_answer() {
    Life owing = new Life(ONE).weighing().pass(QUIET).hear(new LinkEvent.Heard(SCALE));
    assertThat(owing.state.word()).isEqualTo("weighing");
    assertThat(owing.pass(QUIET).orders).containsExactly(new LinkOrder.Disconnect(SCALE));
    for (LinkEvent answer : List.of(new LinkEvent.Done(), new LinkEvent.Failed("busy"))) {
      Life paid = new Life(ONE).weighing().pass(QUIET).hear(new LinkEvent.Heard(SCALE));
      assertThat(paid.hear(answer).pass(QUIET).orders).containsExactly(new LinkOrder.Renew(SCALE));
    }
  }

  @Test
  void a_renewed_subscription_that_helps_is_the_end_of_it() {
    Life life = new Life(ONE).weighing().pass(QUIET);
    assertThat(((Listening) life.state).isSilent()).isTrue();
    assertThat(((Listening) life.hear(new LinkEvent.Heard(SCALE)).state).isSilent()).isFalse();
  }

  @Test
  void a_withdrawn_characteristic_is_awaited_on_the_same_connection() {
    Life life = new Life(ONE).weighing();
    assertThat(life.hear(new LinkEvent.Withdrawn(SCALE)).orders)
        .containsExactly(new LinkOrder.Inspect(SCALE));
    assertThat(life.hear(new LinkEvent.Unfit(SCALE)).orders).isEmpty();
    assertThat(life.hear(new LinkEvent.Ready(SCALE)).orders)
        .containsExactly(new LinkOrder.Subscribe(SCALE));
  }

  @Test
  void a_refusal_waits_longer_each_time_up_to_a_limit() {
    Life life = new Life(ONE).hear(new LinkEvent.RadioOn("hci0"));
    Duration before = Duration.ZERO;
    for (int i = 0; i < 8; i++) {
      life.hear(new LinkEvent.Sighted(seen(SCALE, -50))).hear(new LinkEvent.Failed("busy"));
      assertThat(life.reason).contains("busy");
      SessionTime failed = life.now;
      life.pass(Duration.ofSeconds(10));
      assertThat(life.orders).containsExactly(new LinkOrder.Search("hci0"));
      Duration waited = life.now.since(failed);
      assertThat(waited).isGreaterThanOrEqualTo(before).isLessThan(Duration.ofMillis(4_200));
      before = waited;
    }
    assertThat(before).isGreaterThan(Duration.ofSeconds(3));
  }

  @Test
  void every_step_has_a_time_limit() {
    Life life = new Life(ONE).hear(new LinkEvent.RadioOn("hci0"));
    assertThat(life.pass(Duration.ofSeconds(30)).orders)
        .containsExactly(new LinkOrder.Search("hci0"));
    life.hear(new LinkEvent.Sighted(seen(SCALE, -50)));
    assertThat(life.pass(Duration.ofSeconds(30)).orders)
        .containsExactly(new LinkOrder.Disconnect(SCALE));
    assertThat(life.pass(Duration.ofSeconds(30)).orders)
        .containsExactly(new LinkOrder.Search("hci0"));
    life.hear(new LinkEvent.Sighted(seen(SCALE, -50))).hear(new LinkEvent.Connected(SCALE));
    assertThat(life.pass(Duration.ofSeconds(30)).orders)
        .containsExactly(new LinkOrder.Disconnect(SCALE));
    life.hear(new LinkEvent.Failed("gone")).pass(Duration.ofSeconds(30));
    life.hear(new LinkEvent.Sighted(seen(SCALE, -50))).hear(new LinkEvent.Done());
    life.hear(new LinkEvent.Ready(SCALE));
    assertThat(life.pass(Duration.ofSeconds(30)).orders)
        .containsExactly(new LinkOrder.Disconnect(SCALE));
  }

  @Test
  void a_scale_that_does_not_agree_to_send_may_want_to_be_paired() {
    Life waiting = new Life(ONE).hear(new LinkEvent.RadioOn("hci0"));
    waiting.hear(new LinkEvent.Sighted(seen(SCALE, -50))).hear(new LinkEvent.Done());
    waiting.hear(new LinkEvent.Ready(SCALE)).pass(Duration.ofSeconds(11));
    assertThat(waiting.orders).containsExactly(new LinkOrder.Disconnect(SCALE));
    assertThat(waiting.reason).contains("within 10", "paired first");
    Life ended = new Life(ONE).hear(new LinkEvent.RadioOn("hci0"));
    ended.hear(new LinkEvent.Sighted(seen(SCALE, -50))).hear(new LinkEvent.Done());
    ended.hear(new LinkEvent.Ready(SCALE)).hear(new LinkEvent.Disconnected(SCALE));
    assertThat(ended.reason).contains("ended when it was asked", "paired first");
  }

  @Test
  void a_radio_switched_off_stops_all_and_on_again_begins_anew() {
    Life life = new Life(ONE).weighing();
    life.hear(new LinkEvent.RadioOff("Bluetooth is switched off"));
    assertThat(life.state.word()).isEqualTo("no-radio");
    assertThat(life.pass(Duration.ofMinutes(1)).orders).isEmpty();
    assertThat(life.hear(new LinkEvent.RadioOn("hci0")).orders)
        .containsExactly(new LinkOrder.Search("hci0"));
  }

  @Test
  void waking_from_sleep_cuts_a_pause_short() {
    Life life = new Life(ONE).hear(new LinkEvent.RadioOn("hci0"));
    life.hear(new LinkEvent.Sighted(seen(SCALE, -50))).hear(new LinkEvent.Failed("asleep"));
    assertThat(life.state.word()).isEqualTo("pausing");
    assertThat(life.hear(new LinkEvent.Woke()).orders)
        .containsExactly(new LinkOrder.Search("hci0"));
    assertThat(life.hear(new LinkEvent.Woke()).orders)
        .containsExactly(new LinkOrder.Search("hci0"));
  }

  @Test
  void a_lost_scale_is_waited_for_before_another_is_taken() {
    Life life = new Life(ANY).hear(new LinkEvent.RadioOn("hci0"));
    life.hear(new LinkEvent.Sighted(seen(SCALE, -40, SERVICE))).pass(Duration.ofSeconds(2));
    life.hear(new LinkEvent.Done()).hear(new LinkEvent.Ready(SCALE));
    life.hear(new LinkEvent.Heard(SCALE)).hear(new LinkEvent.Disconnected(SCALE));
    life.pass(Duration.ofSeconds(1));
    life.hear(new LinkEvent.Sighted(seen(OTHER, -20, SERVICE)));
    assertThat(life.pass(Duration.ofSeconds(9)).orders).isEmpty();
    assertThat(life.hear(new LinkEvent.Sighted(seen(SCALE, -90))).orders)
        .containsExactly(new LinkOrder.Connect(SCALE));
  }

  static LongStream seeds() {
    return LongStream.range(0, 200);
  }

  @ParameterizedTest(name = "seed {0}")
  @MethodSource("seeds")
  void whatever_happens_a_scale_that_is_there_weighs_again(long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    Life life = new Life(random.nextBoolean() ? ONE : ANY);
    LinkEvent[] all = {
      new LinkEvent.RadioOn("hci0"),
      new LinkEvent.RadioOff("off"),
      new LinkEvent.Sighted(seen(SCALE, -50, SERVICE)),
      new LinkEvent.Connected(SCALE),
      new LinkEvent.Disconnected(SCALE),
      new LinkEvent.Ready(SCALE),
      new LinkEvent.Withdrawn(SCALE),
      new LinkEvent.Heard(SCALE),
      new LinkEvent.Done(),
      new LinkEvent.Failed("no"),
      new LinkEvent.Woke(),
      new LinkEvent.Tick()
    };
    for (int i = 0; i < 300; i++) {
      life.now = life.now.plus(Duration.ofMillis(random.nextInt(3_000)));
      life.hear(all[random.nextInt(all.length)]);
    }
    life.hear(new LinkEvent.RadioOn("hci0"));
    for (int i = 0; i < 1_200 && !life.state.word().equals("weighing"); i++) {
      life.now = life.now.plus(Duration.ofMillis(100));
      life.hear(new LinkEvent.Tick());
      answer(life);
    }
    assertThat(life.state.word()).isEqualTo("weighing");
  }

  /** A scale in reach that does whatever it is asked. */
  private static void answer(Life life) {
    if (life.state instanceof LinkState.Searching) {
      life.hear(new LinkEvent.Sighted(seen(SCALE, -50, SERVICE)));
    } else if (life.state instanceof LinkState.Connecting) {
      life.hear(new LinkEvent.Done());
    } else if (life.state instanceof LinkState.Resolving) {
      life.hear(new LinkEvent.Ready(SCALE));
    } else if (life.state instanceof LinkState.Subscribing || life.state instanceof Listening) {
      life.hear(new LinkEvent.Heard(SCALE));
    }
  }
}
