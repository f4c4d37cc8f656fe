package pourwright.device.ble;

import java.io.IOException;
import java.time.Duration;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import pourwright.device.ArrivalQueue;
import pourwright.device.BleSettings;
import pourwright.device.Bytes;
import pourwright.device.SessionClock;
import pourwright.device.Transport;
import pourwright.device.ble.gatt.Characteristic;
import pourwright.device.ble.gatt.GattCentral;
import pourwright.device.ble.gatt.GattEvent;
import pourwright.device.ble.gatt.GattFailure;
import pourwright.device.ble.gatt.Peripheral;
import pourwright.device.ble.link.LinkEvent;
import pourwright.device.ble.link.LinkLimits;
import pourwright.device.ble.link.LinkOrder;
import pourwright.device.ble.link.LinkState;
import pourwright.device.ble.link.LinkState.Listening;
import pourwright.device.ble.link.LinkState.Rules;
import pourwright.device.ble.link.LinkState.Step;
import pourwright.device.ble.link.Wanted;
import pourwright.units.SessionTime;

/**
 * A scale over Bluetooth LE.
 *
 * <p>One thread owns the state of the link: everything the system says comes to it through one
 * inbox, in order, and each change of state is logged with where from, where to and why. What the
 * state asks for is done on other threads, since the system may take its time, and its answer is
 * heard only while that state still stands. Weights go to the taker in the order they came.
 */
public final class BleTransport implements Transport {
  private static final Logger LOG = LoggerFactory.getLogger(BleTransport.class);

  /** How often time limits are looked at. */
  private static final long TICK_MILLIS = 100;

  /** How long a scale may take to be found before the brewer is told that it is not there. */
  private static final Duration FIRST_SIGHT = Duration.ofSeconds(8);

  /** Chunks that may wait for the taker; over three minutes of a fast scale. */
  private static final int CAPACITY = 16_384;

  private static final Duration CLOSING_LIMIT = Duration.ofSeconds(3);

  /** Bluetooth SIG: Battery Service 0x180F, its Battery Level 0x2A19, one byte, 0 to 100 %. */
  private static final UUID BATTERY_LEVEL = BleSettings.standard(0x2A19);

  private static final int FULL_PERCENT = 100;

  private final BleSettings settings;
  private final Optional<Bytes> startCommand;
  private final Rules rules;
  private final SessionClock clock;
  private final ArrivalQueue arrivals;
  private final BlockingQueue<Message> inbox = new LinkedBlockingQueue<>();
  private final ExecutorService calls;
  private final Thread owner;
  private final GattCentral central;

  private volatile @Nullable Peripheral reached; // where commands go; null while not connected

  // Owned by the owner thread.
  private LinkState state = LinkState.initial();
  private final Radios radios;
  private final SessionTime begun;
  private int stateNumber;
  private String trouble = ""; // why the last attempt came to nothing
  private boolean hasSpoken;
  private boolean isLost;
  private SessionTime keptAlive = SessionTime.ZERO;

  /** What comes to the owner of the link. */
  private sealed interface Message {
    /** The system says something. */
    record Said(GattEvent event) implements Message {}

    /** An order was carried out, or not; of interest while state number {@code asked} stands. */
    record Answered(int asked, LinkEvent answer) implements Message {}

    /** A battery told its level. */
    record Charge(int percent) implements Message {}
  }

  private BleTransport(
      BleSettings settings,
      Optional<Bytes> startCommand,
      Optional<String> radioWanted,
      Rules rules,
      SessionClock clock,
      Opening opening)
      throws IOException {
    this.settings = settings;
    this.startCommand = startCommand;
    this.radios = new Radios(radioWanted);
    this.rules = rules;
    this.clock = clock;
    this.begun = clock.now();
    this.arrivals = new ArrivalQueue(clock, CAPACITY);
    AtomicInteger count = new AtomicInteger();
    this.calls =
        Executors.newCachedThreadPool(
            work -> {
              Thread thread = new Thread(work, "ble call " + count.incrementAndGet());
              thread.setDaemon(true);
              return thread;
            });
    this.owner = new Thread(this::run, "ble " + rules.wanted().words());
    owner.setDaemon(true);
    this.central = opening.open(event -> inbox.add(new Message.Said(event)));
  }

  /** How a central is had; a test gives its own. */
  @FunctionalInterface
  interface Opening {
    GattCentral open(GattCentral.Listener listener) throws GattFailure;
  }

  /**
   * Starts to look for a scale; it need not be in reach yet.
   *
   * @param address of the scale; empty takes the strongest that offers the service
   * @param radio the system's name of the radio to use, such as {@code hci0}; empty takes the first
   *     that is switched on
   * @param startCommand what makes this kind of scale send, where it needs telling
   * @throws IOException when this computer has no Bluetooth to use; one plain sentence that says
   *     what to do
   */
  public static BleTransport open(
      Optional<String> address,
      Optional<String> radio,
      BleSettings settings,
      Optional<Bytes> startCommand,
      BleBackend backend,
      SessionClock clock)
      throws IOException {
    Rules rules =
        new Rules(new Wanted(address, settings.service()), LinkLimits.usual(settings.quiet()));
    return open(settings, startCommand, radio, rules, clock, backend::open);
  }

  static BleTransport open(
      BleSettings settings,
      Optional<Bytes> startCommand,
      Optional<String> radio,
      Rules rules,
      SessionClock clock,
      Opening opening)
      throws IOException {
    BleTransport transport = new BleTransport(settings, startCommand, radio, rules, clock, opening);
    try {
      Radios.check(transport.central.listAdapters(), radio);
    } catch (GattFailure none) {
      transport.close();
      throw none;
    }
    transport.owner.start();
    return transport;
  }

  @Override
  public Arrival receive(Duration patience) throws InterruptedException {
    return arrivals.take(patience);
  }

  @Override
  public void send(Bytes command) throws IOException {
    Peripheral scale = reached;
    if (settings.commands().isEmpty()) {
      throw new IOException("this profile names no place to write commands to");
    }
    if (scale == null) {
      throw new IOException("the scale is not connected; the command was not sent");
    }
    write(scale, command);
  }

  @Override
  public void close() {
    owner.interrupt();
    try {
      owner.join(CLOSING_LIMIT.toMillis());
    } catch (InterruptedException told) {
      Thread.currentThread().interrupt();
    }
    calls.shutdownNow();
    central.close();
  }

  private void run() {
    try {
      while (!Thread.currentThread().isInterrupted()) {
        Message message = inbox.poll(TICK_MILLIS, TimeUnit.MILLISECONDS);
        if (message != null) {
          take(message);
        }
        if (inbox.isEmpty()) {
          // What has come is heard before silence is judged, however late this thread is.
          tick();
        }
      }
    } catch (InterruptedException told) {
      // Closing.
    } finally {
      leave();
    }
  }

  private void take(Message message) throws InterruptedException {
    if (message instanceof Message.Said said) {
      if (said.event() instanceof GattEvent.Notified notified) {
        hear(notified);
      } else {
        hear(said.event());
      }
    } else if (message instanceof Message.Answered answered) {
      if (answered.asked() == stateNumber) {
        react(answered.answer());
      }
    } else if (message instanceof Message.Charge charge) {
      arrivals.charged(charge.percent());
    }
  }

  private void hear(GattEvent.Notified notified) throws InterruptedException {
    Characteristic from = notified.from();
    if (from.uuid().equals(BATTERY_LEVEL)) {
      charge(notified.value());
      return;
    }
    boolean isOurs =
        from.peripheral().equals(reached)
            && from.uuid().equals(settings.weight())
            && from.service().equals(settings.service());
    if (!isOurs) {
      return;
    }
    react(new LinkEvent.Heard(from.peripheral()));
    if (isLost) {
      isLost = false;
      arrivals.restored();
    }
    hasSpoken = true;
    radios.weighsOn(from.peripheral().adapter());
    arrivals.received(notified.value());
  }

  private void charge(Bytes level) throws InterruptedException {
    int percent = level.size() == 0 ? -1 : Byte.toUnsignedInt(level.at(0));
    if (percent >= 0 && percent <= FULL_PERCENT) {
      arrivals.charged(percent);
    }
  }

  private void hear(GattEvent event) throws InterruptedException {
    if (event instanceof GattEvent.AdapterChanged changed) {
      radios.put(changed.adapter());
      chooseRadio();
    } else if (event instanceof GattEvent.AdapterGone gone) {
      radios.remove(gone.name());
      chooseRadio();
    } else if (event instanceof GattEvent.StackGone) {
      radios.clear();
      react(new LinkEvent.RadioOff("the system's Bluetooth service stopped"));
    } else if (event instanceof GattEvent.Sighted seen) {
      react(new LinkEvent.Sighted(seen.sighting()));
    } else if (event instanceof GattEvent.Connected up) {
      react(new LinkEvent.Connected(up.peripheral()));
    } else if (event instanceof GattEvent.Disconnected down) {
      react(new LinkEvent.Disconnected(down.peripheral()));
    } else if (event instanceof GattEvent.Resolved resolved) {
      react(inspect(resolved.peripheral()));
    } else if (event instanceof GattEvent.Unresolved gone) {
      if (findWeight(gone.peripheral()).isEmpty()) {
        react(new LinkEvent.Withdrawn(gone.peripheral()));
      }
    } else if (event instanceof GattEvent.Woke) {
      react(new LinkEvent.Woke());
    }
  }

  private void chooseRadio() throws InterruptedException {
    Optional<String> choice = radios.choose(state.history().adapter(), reached != null);
    react(
        choice.isPresent()
            ? new LinkEvent.RadioOn(choice.get())
            : new LinkEvent.RadioOff(radios.whyNone()));
  }

  private void tick() throws InterruptedException {
    react(new LinkEvent.Tick());
    SessionTime now = clock.now();
    if (!hasSpoken && !isLost && now.since(begun).compareTo(FIRST_SIGHT) >= 0) {
      lose(whyNotYet());
    }
    Peripheral scale = reached;
    if (scale != null && settings.keepAlive().isPresent()) {
      BleSettings.KeepAlive keep = settings.keepAlive().get();
      if (now.since(keptAlive).compareTo(keep.interval()) >= 0) {
        keptAlive = now;
        aside(() -> write(scale, keep.command()));
      }
    }
  }

  /** What went wrong last says more than where the next attempt stands. */
  private String whyNotYet() {
    if (state instanceof LinkState.NoRadio off) {
      return off.why();
    }
    if (!trouble.isEmpty()) {
      return trouble;
    }
    return state instanceof LinkState.Searching
        ? "not in reach, or switched off"
        : "found, but it does not weigh yet";
  }

  private void react(LinkEvent event) throws InterruptedException {
    LinkState before = state;
    Step step = before.on(event, clock.now(), rules);
    state = step.next();
    boolean isSameWord = before.word().equals(state.word());
    if (!step.reason().isEmpty() && !(isSameWord && event instanceof LinkEvent.Heard)) {
      LOG.info(
          "link {}: {} -> {}: {}",
          rules.wanted().words(),
          before.word(),
          state.word(),
          step.reason());
    }
    reached = whereCommandsGo(state);
    if (state instanceof LinkState.Pausing pausing) {
      trouble = pausing.why();
    }
    // A scale that speaks again may still owe the answer to a renewed subscription.
    if (!before.getClass().equals(state.getClass()) || !step.orders().isEmpty()) {
      stateNumber++;
    }
    if (hasSpoken && !isWeighing(state)) {
      lose(step.reason());
    }
    for (LinkOrder order : step.orders()) {
      carryOut(order, stateNumber);
    }
  }

  private static boolean isWeighing(LinkState state) {
    return state instanceof Listening listening && !listening.isSilent() && listening.hasSpoken();
  }

  private static @Nullable Peripheral whereCommandsGo(LinkState state) {
    if (state instanceof Listening listening) {
      return listening.scale();
    }
    return state instanceof LinkState.Subscribing subscribing ? subscribing.scale() : null;
  }

  private void lose(String why) throws InterruptedException {
    if (!isLost) {
      isLost = true;
      arrivals.lost(
          rules.wanted().words()
              + ": "
              + why
              + "; it is taken again by itself as soon as it can be");
    }
  }

  private void carryOut(LinkOrder order, int asked) {
    calls.execute(
        () -> {
          LinkEvent answer;
          try {
            answer = answer(order);
          } catch (GattFailure refused) {
            answer = new LinkEvent.Failed(refused.what());
          } catch (RuntimeException bug) {
            LOG.error("could not carry out {}", order, bug);
            answer = new LinkEvent.Failed("the program failed: " + bug);
          }
          inbox.add(new Message.Answered(asked, answer));
        });
  }

  private LinkEvent answer(LinkOrder order) throws GattFailure {
    if (order instanceof LinkOrder.Search search) {
      central.scan(search.adapter());
      return new LinkEvent.Tick();
    }
    if (order instanceof LinkOrder.Connect connect) {
      central.stopScan(connect.peripheral().adapter());
      central.connect(connect.peripheral());
      return new LinkEvent.Done();
    }
    if (order instanceof LinkOrder.Inspect inspect) {
      return inspect(inspect.peripheral());
    }
    if (order instanceof LinkOrder.Subscribe subscribe) {
      subscribe(subscribe.peripheral());
      return new LinkEvent.Done();
    }
    if (order instanceof LinkOrder.Renew renew) {
      Characteristic weight = weightOf(renew.peripheral());
      central.unsubscribe(weight);
      subscribe(renew.peripheral());
      return new LinkEvent.Done();
    }
    central.disconnect(((LinkOrder.Disconnect) order).peripheral());
    return new LinkEvent.Done();
  }

  private LinkEvent inspect(Peripheral peripheral) {
    if (findWeight(peripheral).isPresent()) {
      return new LinkEvent.Ready(peripheral);
    }
    return central.listCharacteristics(peripheral).isEmpty()
        ? new LinkEvent.Tick()
        : new LinkEvent.Unfit(peripheral);
  }

  private void subscribe(Peripheral peripheral) throws GattFailure {
    central.subscribe(weightOf(peripheral));
    if (startCommand.isPresent() && settings.commands().isPresent()) {
      write(peripheral, startCommand.get());
    }
    find(peripheral, BATTERY_LEVEL).ifPresent(level -> aside(() -> watchBattery(level)));
    if (settings.service().equals(WeightScaleFeature.SERVICE)) {
      find(peripheral, WeightScaleFeature.CHARACTERISTIC)
          .ifPresent(one -> aside(() -> noteStep(one)));
    }
  }

  private void noteStep(Characteristic feature) throws GattFailure {
    WeightScaleFeature.of(central.read(feature))
        .flatMap(said -> said.stepGrams().stream().boxed().findFirst())
        .ifPresent(grams -> LOG.info("{} weighs in steps of {} g", feature.peripheral(), grams));
  }

  private void watchBattery(Characteristic level) throws GattFailure {
    Bytes now = central.read(level);
    if (now.size() > 0 && Byte.toUnsignedInt(now.at(0)) <= FULL_PERCENT) {
      inbox.add(new Message.Charge(Byte.toUnsignedInt(now.at(0))));
    }
    central.subscribe(level);
  }

  private void write(Peripheral scale, Bytes command) throws GattFailure {
    UUID place = settings.commands().orElse(settings.weight());
    Characteristic to =
        find(scale, place)
            .orElseThrow(() -> new GattFailure("the scale offers no place to write commands to"));
    central.write(to, command, settings.isWriteAnswered());
  }

  private Characteristic weightOf(Peripheral peripheral) throws GattFailure {
    return findWeight(peripheral)
        .orElseThrow(() -> new GattFailure("the scale does not offer its weight now"));
  }

  private Optional<Characteristic> findWeight(Peripheral peripheral) {
    return central.listCharacteristics(peripheral).stream()
        .filter(one -> one.service().equals(settings.service()))
        .filter(one -> one.uuid().equals(settings.weight()))
        .findFirst();
  }

  private Optional<Characteristic> find(Peripheral peripheral, UUID uuid) {
    return central.listCharacteristics(peripheral).stream()
        .filter(one -> one.uuid().equals(uuid))
        .findFirst();
  }

  /** Does something that the link does not depend on. */
  private void aside(Aside work) {
    try {
      calls.execute(
          () -> {
            try {
              work.run();
            } catch (GattFailure | RuntimeException notDone) {
              LOG.debug("of no consequence for the link", notDone);
            }
          });
    } catch (RejectedExecutionException closing) {
      LOG.debug("closing", closing);
    }
  }

  @FunctionalInterface
  private interface Aside {
    void run() throws GattFailure;
  }

  /** Lets the scale go, so that others can have it. */
  private void leave() {
    try {
      if (state instanceof LinkState.Searching searching) {
        central.stopScan(searching.history().adapter());
      } else if (reached != null) {
        central.disconnect(reached);
      }
    } catch (GattFailure | RuntimeException notLeft) {
      LOG.debug("leaving the scale", notLeft);
    }
  }
}
