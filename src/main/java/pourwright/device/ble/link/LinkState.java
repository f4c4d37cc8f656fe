package pourwright.device.ble.link;

import java.time.Duration;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import pourwright.device.ble.gatt.Peripheral;
import pourwright.device.ble.gatt.Sighting;
import pourwright.device.ble.link.LinkOrder.Connect;
import pourwright.device.ble.link.LinkOrder.Disconnect;
import pourwright.device.ble.link.LinkOrder.Inspect;
import pourwright.device.ble.link.LinkOrder.Renew;
import pourwright.device.ble.link.LinkOrder.Search;
import pourwright.device.ble.link.LinkOrder.Subscribe;
import pourwright.units.SessionTime;

/**
 * Where a Bluetooth link stands. Each state answers every event; nothing else remembers the link.
 *
 * <p>The usual way is {@link Searching}, {@link Connecting}, {@link Resolving}, {@link
 * Subscribing}, {@link Listening}. Every state has a time limit, and none is final: whatever goes
 * wrong leads back to the search by way of {@link Releasing} and {@link Pausing}, and no radio at
 * all to {@link NoRadio} until there is one again.
 */
public sealed interface LinkState {
  /** What stays while states change. */
  History history();

  /** A stable word for logs. */
  String word();

  /** The answer of this very state; {@link #on} is what to call. */
  Step react(LinkEvent event, SessionTime now, Rules rules);

  /** The whole transition function: pure, total, time taken only from {@code now}. */
  default Step on(LinkEvent event, SessionTime now, Rules rules) {
    if (event instanceof LinkEvent.RadioOff off) {
      return Step.to(new NoRadio(history(), off.why()), off.why());
    }
    if (event instanceof LinkEvent.RadioOn on && !on.adapter().equals(history().adapter())) {
      return Searching.begin(history().on(on.adapter()), now, "radio " + on.adapter() + " is on");
    }
    return react(event, now, rules);
  }

  /** Where every link begins. */
  static LinkState initial() {
    return new NoRadio(History.NONE, "no radio has been found yet");
  }

  /**
   * What a link is to reach and how long it may take.
   *
   * @param wanted the scale
   */
  record Rules(Wanted wanted, LinkLimits limits) {}

  /**
   * What stays while states change.
   *
   * @param adapter the radio in use, empty before there is one
   * @param kept address of the scale that has weighed, which is the one to take again
   * @param unfit addresses that were looked into and do not offer what the profile needs
   * @param failures attempts that failed since the scale was last heard
   */
  record History(String adapter, Optional<String> kept, Set<String> unfit, int failures) {
    static final History NONE = new History("", Optional.empty(), Set.of(), 0);

    public History {
      unfit = Set.copyOf(unfit);
    }

    History on(String radio) {
      return new History(radio, kept, unfit, 0);
    }

    History weighed(Peripheral scale) {
      return new History(adapter, Optional.of(scale.address()), unfit, 0);
    }

    History failed() {
      return new History(adapter, kept, unfit, failures + 1);
    }

    History without(Peripheral misfit) {
      Set<String> more = new HashSet<>(unfit);
      more.add(misfit.address());
      return new History(adapter, kept, more, failures);
    }
  }

  /**
   * One transition.
   *
   * @param orders what to ask of the system, in order; each asked only while {@code next} stands
   * @param reason why, in plain words; empty when nothing changed
   */
  record Step(LinkState next, List<LinkOrder> orders, String reason) {
    public Step {
      orders = List.copyOf(orders);
    }

    static Step to(LinkState next, String reason, LinkOrder... orders) {
      return new Step(next, List.of(orders), reason);
    }

    static Step stay(LinkState same) {
      return new Step(same, List.of(), "");
    }
  }

  private static boolean isPast(SessionTime since, Duration limit, SessionTime now) {
    return now.since(since).compareTo(limit) >= 0;
  }

  /** In seconds, as short as they can be said. */
  private static String inWords(Duration duration) {
    return SessionTime.ofNanos(duration.toNanos()).toString();
  }

  /** There is no radio to use; the link waits for one. */
  record NoRadio(History history, String why) implements LinkState {
    @Override
    public String word() {
      return "no-radio";
    }

    @Override
    public Step react(LinkEvent event, SessionTime now, Rules rules) {
      return event instanceof LinkEvent.RadioOn on
          ? Searching.begin(history.on(on.adapter()), now, "radio " + on.adapter() + " is on")
          : Step.stay(this);
    }
  }

  /**
   * Devices are looked for.
   *
   * @param since when the link began to look, over any number of searches
   * @param begun when the present search began
   * @param best strongest scale heard that fits
   * @param bestSince when the first such was heard
   * @param kin strongest device heard that calls itself a scale and may fit
   */
  record Searching(
      History history,
      SessionTime since,
      SessionTime begun,
      Optional<Sighting> best,
      SessionTime bestSince,
      Optional<Sighting> kin)
      implements LinkState {

    static Step begin(History history, SessionTime now, String reason) {
      return Step.to(
          new Searching(history, now, now, Optional.empty(), now, Optional.empty()),
          reason,
          new Search(history.adapter()));
    }

    @Override
    public String word() {
      return "searching";
    }

    @Override
    public Step react(LinkEvent event, SessionTime now, Rules rules) {
      if (event instanceof LinkEvent.Sighted seen && seen.sighting().isInReach()) {
        return saw(seen.sighting(), now, rules);
      }
      if (event instanceof LinkEvent.Failed failed) {
        return Pausing.begin(history, now, rules, "the search failed: " + failed.why());
      }
      if (event instanceof LinkEvent.Woke) {
        return begin(history, now, "the computer woke");
      }
      return event instanceof LinkEvent.Tick ? waited(now, rules) : Step.stay(this);
    }

    private Step saw(Sighting seen, SessionTime now, Rules rules) {
      String address = seen.peripheral().address();
      boolean isMet = rules.wanted().isMetBy(seen);
      if (history.kept().filter(address::equals).isPresent()
          || (isMet && rules.wanted().address().isPresent())) {
        return Connecting.begin(history, seen, now);
      }
      if (history.unfit().contains(address)) {
        return Step.stay(this);
      }
      if (isMet) {
        return Step.stay(
            new Searching(
                history,
                since,
                begun,
                Optional.of(stronger(best, seen)),
                best.isPresent() ? bestSince : now,
                kin));
      }
      return rules.wanted().isMaybeMetBy(seen)
          ? Step.stay(
              new Searching(
                  history, since, begun, best, bestSince, Optional.of(stronger(kin, seen))))
          : Step.stay(this);
    }

    private Step waited(SessionTime now, Rules rules) {
      LinkLimits limits = rules.limits();
      boolean mayTakeAnother = history.kept().isEmpty() || isPast(since, limits.loyal(), now);
      if (mayTakeAnother && best.isPresent() && isPast(bestSince, limits.settle(), now)) {
        return Connecting.begin(history, best.get(), now);
      }
      if (mayTakeAnother && kin.isPresent() && isPast(since, limits.kin(), now)) {
        return Connecting.begin(history, kin.get(), now);
      }
      if (isPast(begun, limits.search(), now)) {
        return Step.to(
            new Searching(history, since, now, best, bestSince, kin),
            "not in reach yet",
            new Search(history.adapter()));
      }
      return Step.stay(this);
    }

    private static Sighting stronger(Optional<Sighting> one, Sighting other) {
      return one.filter(before -> strength(before) > strength(other)).orElse(other);
    }

    /** A device that is connected already is as near as any. */
    private static int strength(Sighting seen) {
      return seen.isConnected() ? 0 : seen.strength().orElse(Integer.MIN_VALUE);
    }
  }

  /** A connection was asked for. */
  record Connecting(History history, Peripheral scale, SessionTime since) implements LinkState {
    static Step begin(History history, Sighting seen, SessionTime now) {
      Peripheral scale = seen.peripheral();
      String how =
          seen.isConnected()
              ? " is connected to this computer already"
              : " was heard" + strength(seen);
      return Step.to(new Connecting(history, scale, now), scale + how, new Connect(scale));
    }

    private static String strength(Sighting seen) {
      return seen.strength().isPresent() ? " at " + seen.strength().getAsInt() + " dBm" : "";
    }

    @Override
    public String word() {
      return "connecting";
    }

    @Override
    public Step react(LinkEvent event, SessionTime now, Rules rules) {
      boolean isUp = event instanceof LinkEvent.Connected up && up.peripheral().equals(scale);
      if (isUp || event instanceof LinkEvent.Done) {
        return Resolving.begin(history, scale, now, "connected");
      }
      if (event instanceof LinkEvent.Failed failed) {
        return Pausing.begin(history, now, rules, "no connection: " + failed.why());
      }
      return event instanceof LinkEvent.Tick && isPast(since, rules.limits().connect(), now)
          ? Releasing.begin(
              history, scale, now, "no connection within " + inWords(rules.limits().connect()))
          : Step.stay(this);
    }
  }

  /**
   * Connected; what the device offers is not known yet, or not any more.
   *
   * @param unfitSince since when something is known of what it offers, but not what the profile
   *     reads; the system tells the parts one after the other
   */
  record Resolving(
      History history, Peripheral scale, SessionTime since, Optional<SessionTime> unfitSince)
      implements LinkState {
    static Step begin(History history, Peripheral scale, SessionTime now, String reason) {
      return Step.to(
          new Resolving(history, scale, now, Optional.empty()), reason, new Inspect(scale));
    }

    @Override
    public String word() {
      return "resolving";
    }

    @Override
    public Step react(LinkEvent event, SessionTime now, Rules rules) {
      if (event instanceof LinkEvent.Ready ready && ready.peripheral().equals(scale)) {
        return Step.to(
            new Subscribing(history, scale, now), "its services are known", new Subscribe(scale));
      }
      if (event instanceof LinkEvent.Disconnected down && down.peripheral().equals(scale)) {
        return Pausing.begin(history, now, rules, "the connection ended before it was of use");
      }
      if (event instanceof LinkEvent.Unfit unfit && unfit.peripheral().equals(scale)) {
        return Step.stay(new Resolving(history, scale, since, Optional.of(unfitSince.orElse(now))));
      }
      return event instanceof LinkEvent.Tick ? waited(now, rules.limits()) : Step.stay(this);
    }

    private Step waited(SessionTime now, LinkLimits limits) {
      boolean isMisfit =
          history.kept().isEmpty()
              && unfitSince.isPresent()
              && isPast(unfitSince.get(), limits.unfit(), now);
      if (isMisfit) {
        return Releasing.begin(
            history.without(scale), scale, now, scale + " does not offer what the profile reads");
      }
      return isPast(since, limits.resolve(), now)
          ? Releasing.begin(
              history,
              scale,
              now,
              "its services were not known within " + inWords(limits.resolve()))
          : Step.stay(this);
    }
  }

  /** The scale was asked to send. */
  record Subscribing(History history, Peripheral scale, SessionTime since) implements LinkState {
    /**
     * BlueZ tries to pair by itself; where nobody answers for the brewer, that comes to nothing.
     */
    private static final String MAY_WANT_PAIRING =
        "; if that goes on, it wants to be paired first, once, in the system's Bluetooth settings";

    @Override
    public String word() {
      return "subscribing";
    }

    @Override
    public Step react(LinkEvent event, SessionTime now, Rules rules) {
      if (event instanceof LinkEvent.Heard heard && heard.peripheral().equals(scale)) {
        return Listening.heard(history, scale, now, true);
      }
      if (event instanceof LinkEvent.Done) {
        return Step.to(
            new Listening(history, scale, now, false, 0, now, true), "the scale was asked to send");
      }
      if (event instanceof LinkEvent.Disconnected down && down.peripheral().equals(scale)) {
        return Pausing.begin(
            history,
            now,
            rules,
            "the connection ended when it was asked to send" + MAY_WANT_PAIRING);
      }
      if (event instanceof LinkEvent.Withdrawn gone && gone.peripheral().equals(scale)) {
        return Resolving.begin(history, scale, now, "its services changed");
      }
      if (event instanceof LinkEvent.Failed failed) {
        return Releasing.begin(history, scale, now, "it refused to send: " + failed.why());
      }
      return event instanceof LinkEvent.Tick && isPast(since, rules.limits().subscribe(), now)
          ? Releasing.begin(
              history,
              scale,
              now,
              "it did not agree to send within "
                  + inWords(rules.limits().subscribe())
                  + MAY_WANT_PAIRING)
          : Step.stay(this);
    }
  }

  /**
   * Weights come, or should.
   *
   * @param since when the last one came, or when they were asked for
   * @param hasSpoken whether any came in this connection
   * @param renewals subscriptions renewed since {@code since}; above 0 means silent
   * @param renewedAt when that was last done
   * @param isAnswered whether the system has confirmed the last subscription
   */
  record Listening(
      History history,
      Peripheral scale,
      SessionTime since,
      boolean hasSpoken,
      int renewals,
      SessionTime renewedAt,
      boolean isAnswered)
      implements LinkState {
    /** Renewals that may fail to help before the connection is given up; own choice. */
    private static final int RENEWALS = 2;

    static Step heard(History history, Peripheral scale, SessionTime now, boolean isAnswered) {
      return Step.to(
          new Listening(history.weighed(scale), scale, now, true, 0, now, isAnswered), "it weighs");
    }

    @Override
    public String word() {
      return isSilent() ? "silent" : hasSpoken ? "weighing" : "listening";
    }

    /** Connected, but nothing comes. */
    public boolean isSilent() {
      return renewals > 0;
    }

    @Override
    public Step react(LinkEvent event, SessionTime now, Rules rules) {
      if (event instanceof LinkEvent.Heard heard && heard.peripheral().equals(scale)) {
        return heard(history, scale, now, isAnswered);
      }
      if (event instanceof LinkEvent.Disconnected down && down.peripheral().equals(scale)) {
        return Step.to(
            new Pausing(history, now.plus(rules.limits().breather()), "the connection ended"),
            "the connection ended");
      }
      if (event instanceof LinkEvent.Withdrawn gone && gone.peripheral().equals(scale)) {
        return Resolving.begin(history, scale, now, "it stopped offering its weight");
      }
      if (event instanceof LinkEvent.Failed failed && isSilent()) {
        return Releasing.begin(history, scale, now, "it refused to go on: " + failed.why());
      }
      if (event instanceof LinkEvent.Done || event instanceof LinkEvent.Failed) {
        return Step.stay(
            new Listening(history, scale, since, hasSpoken, renewals, renewedAt, true));
      }
      return event instanceof LinkEvent.Tick ? waited(now, rules.limits()) : Step.stay(this);
    }

    private Step waited(SessionTime now, LinkLimits limits) {
      if (isSilent()) {
        if (!isPast(renewedAt, limits.nudge(), now)) {
          return Step.stay(this);
        }
        return renewals < RENEWALS
            ? renew(now, "still nothing comes")
            : Releasing.begin(history, scale, now, "connected, but nothing comes");
      }
      Duration limit = limits.quiet();
      if (!hasSpoken && limit.compareTo(limits.firstReading()) < 0) {
        limit = limits.firstReading();
      }
      return isPast(since, limit, now)
          ? renew(now, "connected, but nothing came for " + inWords(limit))
          : Step.stay(this);
    }

    private Step renew(SessionTime now, String reason) {
      if (!isAnswered) {
        // To renew on top of that would end BlueZ 5.66 itself, by an assertion of its own.
        return Releasing.begin(history, scale, now, "connected, but it does not even answer");
      }
      return Step.to(
          new Listening(history, scale, since, hasSpoken, renewals + 1, now, false),
          reason,
          new Renew(scale));
    }
  }

  /** The connection, or the attempt at one, is being given up. */
  record Releasing(History history, Peripheral scale, SessionTime since, String why)
      implements LinkState {
    static Step begin(History history, Peripheral scale, SessionTime now, String why) {
      return Step.to(new Releasing(history, scale, now, why), why, new Disconnect(scale));
    }

    @Override
    public String word() {
      return "releasing";
    }

    @Override
    public Step react(LinkEvent event, SessionTime now, Rules rules) {
      boolean isDown =
          event instanceof LinkEvent.Disconnected down && down.peripheral().equals(scale);
      boolean isOver =
          event instanceof LinkEvent.Done
              || event instanceof LinkEvent.Failed
              || (event instanceof LinkEvent.Tick && isPast(since, rules.limits().release(), now));
      return isDown || isOver ? Pausing.begin(history, now, rules, why) : Step.stay(this);
    }
  }

  /** The connection ended or an attempt failed; the next one waits a little, longer each time. */
  record Pausing(History history, SessionTime until, String why) implements LinkState {
    static Step begin(History history, SessionTime now, Rules rules, String why) {
      History after = history.failed();
      Duration pause = rules.limits().pauseAfter(after.failures());
      return Step.to(new Pausing(after, now.plus(pause), why), why);
    }

    @Override
    public String word() {
      return "pausing";
    }

    @Override
    public Step react(LinkEvent event, SessionTime now, Rules rules) {
      boolean isOver = event instanceof LinkEvent.Tick && !now.isBefore(until);
      return isOver || event instanceof LinkEvent.Woke
          ? Searching.begin(history, now, "trying again")
          : Step.stay(this);
    }
  }
}
