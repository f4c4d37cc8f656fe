package pourwright.session;

import java.io.IOException;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import pourwright.coach.CoachSettings;
import pourwright.device.Scale.Heard;
import pourwright.rig.Place;
import pourwright.roving.RovingScale;
import pourwright.session.Outcome.Ending;
import pourwright.units.SessionTime;

/**
 * One rehearsal, from the first byte to the judged run.
 *
 * <p>The thread that calls {@link #run} owns every detector and all that is known of the run. Each
 * scale has a listening thread, each audience a thread that brings it views, and one thread writes
 * the journals; they meet in queues and see immutable snapshots only. Raw bytes are handed to the
 * journals before they are decoded.
 *
 * <p>Hands-free: a lane arms itself when its rig is still and tared, starts at the first water and
 * ends at the lift.
 */
public final class Rehearsal {
  private static final Logger LOG = LoggerFactory.getLogger(Rehearsal.class);

  /** At most 25 views a second. */
  private static final long BETWEEN_VIEWS_NANOS = 40_000_000L;

  /** How long to go on listening after the last lift, to see what stays; own choice. */
  private static final Duration AFTER_LIFT = Duration.ofSeconds(2);

  /** So long a rig that was taken off after one pour may stay away, to throw the water away. */
  private static final Duration AFTER_RINSING = Duration.ofSeconds(60);

  private static final Duration PATIENCE = Duration.ofMillis(20);

  private final Setup setup;
  private final List<Lane> lanes;
  private final Inbox inbox;
  private final Scribe scribe;
  private final List<Courier> couriers;
  private final List<Ear> ears;
  private final Optional<MovedScale> moved;
  private final Set<Stand> over = new HashSet<>();
  private SessionTime now = SessionTime.ZERO;
  private SessionTime lastEvent = SessionTime.ZERO;
  private Optional<Ending> ending = Optional.empty();
  private Optional<String> refusal = Optional.empty();
  private boolean isVoid;
  private boolean isNews;
  private long views;
  private long viewedAtNanos;

  public Rehearsal(Setup setup, List<Journal> journals, List<Audience> audiences) {
    this.setup = setup;
    this.inbox = new Inbox(setup.scales());
    this.scribe = new Scribe(journals);
    this.couriers = audiences.stream().map(Courier::new).toList();
    this.moved =
        setup.turns().isEmpty()
            ? Optional.empty()
            : Optional.of(new MovedScale(new RovingScale(setup.turns()), setup.start().lanes()));
    this.ears =
        setup.scales().stream()
            .map(
                placed ->
                    new Ear(
                        placed,
                        () -> moved.map(MovedScale::stand).orElse(placed.stand()),
                        inbox,
                        scribe))
            .toList();
    this.lanes = new ArrayList<>();
    for (int i = 0; i < setup.settings().size(); i++) {
      RunStart.Lane start = setup.start().lanes().get(i);
      lanes.add(
          new Lane(
              start,
              setup.settings().get(i),
              CoachSettings.of(setup.start().feedback(), setup.start().fadedRun()),
              scalesOf(start),
              moved.isPresent(),
              event -> {
                isNews = true;
                lastEvent = event.knownAt();
                scribe.event(start.number(), event);
              }));
    }
    moved.ifPresent(
        scale ->
            lanes.stream()
                .filter(lane -> lane.number() != scale.stand().lane())
                .forEach(Lane::awaitScale));
  }

  /** A moved scale is every lane's. */
  private List<PlacedScale> scalesOf(RunStart.Lane lane) {
    return moved.isPresent()
        ? List.of(setup.scales().get(0).at(new Stand(lane.number(), Place.WHOLE)))
        : setup.scales();
  }

  /** Passes a command to the run; from any thread. */
  public void tell(Command command) {
    inbox.put(command);
  }

  /**
   * Runs to the end, keeps and judges the run. Once.
   *
   * @throws InterruptedException when the calling thread is told to stop; what was recorded is kept
   */
  public Outcome run() throws InterruptedException {
    scribe.begin(setup.start());
    ears.forEach(Ear::start);
    publish();
    try {
      while (ending.isEmpty()) {
        Optional<Message> message = inbox.take(PATIENCE);
        message.ifPresent(this::act);
        checkEnding();
        if (isNews || System.nanoTime() - viewedAtNanos >= BETWEEN_VIEWS_NANOS) {
          publish();
        }
      }
    } finally {
      ears.forEach(Ear::close);
      if (ending.isEmpty()) {
        scribe.close();
      }
    }
    return conclude(ending.orElseThrow());
  }

  /** What is wrong with keeping the run, one sentence each; empty when all is safe. */
  public List<String> troubles() {
    return scribe.troubles();
  }

  private void act(Message message) {
    if (message instanceof Message.FromScale from) {
      hear(from.from(), from.heard());
    } else if (message instanceof Message.FromBrewer told) {
      obey(told.command());
    }
  }

  private void hear(Stand from, Heard heard) {
    now = heard.at().isAfter(now) ? heard.at() : now;
    Lane lane = lanes.get(moved.map(MovedScale::stand).orElse(from).lane() - 1);
    if (heard instanceof Heard.Said said && moved.isPresent()) {
      moved.get().hear(said.inOrder(), lanes, scribe);
    } else if (heard instanceof Heard.Said said) {
      lane.hear(from.place(), said.inOrder(), reading -> scribe.reading(from, reading));
    } else if (heard instanceof Heard.Gone gone) {
      LOG.warn("{} lost at {}: {}", from.word(), gone.at(), gone.why());
      lane.lost(from.place(), gone.at(), gone.why());
      isNews = true;
    } else if (heard instanceof Heard.Back back) {
      LOG.info("{} is back at {}", from.word(), back.at());
      lane.restored(from.place());
      isNews = true;
    } else if (heard instanceof Heard.Over) {
      over.add(from);
    }
    if (moved.isPresent()) {
      for (Lane each : lanes) {
        isNews |= each.coach(now); // those the scale has left are told when they are due, too
      }
    } else {
      isNews |= lane.coach(now);
    }
  }

  private void obey(Command command) {
    LOG.info("told at {}: {}", now, command);
    isNews = true;
    scribe.command(now, command);
    if (command instanceof Command.VoidRun) {
      isVoid = !isVoid;
    } else if (command instanceof Command.MarkDrained mark) {
      lane(mark.lane()).ifPresent(lane -> lane.markDrained(now));
    } else if (command instanceof Command.Estimate guess) {
      lane(guess.lane()).ifPresent(lane -> lane.estimate(guess.pour(), guess.poured()));
    } else if (command instanceof Command.Tare tare) {
      tare(tare.lane());
    } else if (command instanceof Command.ScaleIsUnder under) {
      lane(under.lane())
          .ifPresent(
              there -> moved.ifPresent(scale -> scale.put(there.number(), now, lanes, scribe)));
    } else if (command instanceof Command.Stop) {
      ending = Optional.of(Ending.STOPPED);
    }
  }

  private Optional<Lane> lane(int number) {
    return lanes.stream().filter(lane -> lane.number() == number).findFirst();
  }

  private void tare(int lane) {
    refusal = Optional.empty();
    for (Ear ear : ears) {
      if (moved.isPresent() || ear.stand().lane() == lane) {
        try {
          if (!ear.scale().tare()) {
            refusal = Optional.of("this scale takes no tare command; press the key on the scale");
          }
        } catch (IOException failed) {
          LOG.warn("tare of {} failed", ear.stand().word(), failed);
          refusal = Optional.of("tare could not be sent: " + failed.getMessage());
        }
      }
    }
  }

  private void checkEnding() {
    if (ending.isPresent()) {
      return;
    }
    if (lanes.stream().allMatch(lane -> doneAt(lane).isPresent())) {
      SessionTime last =
          lanes.stream()
              .map(lane -> doneAt(lane).orElseThrow())
              .max(Comparator.naturalOrder())
              .get();
      boolean isRinsing = lanes.stream().anyMatch(Lane::mayBeRinsing);
      if (!now.isBefore(last.plus(isRinsing ? AFTER_RINSING : AFTER_LIFT))) {
        ending = Optional.of(Ending.LIFTED);
      }
    } else if (lanes.stream().anyMatch(lane -> lane.phase() == Phase.RUNNING)
        && lanes.stream().noneMatch(Lane::isPouring)
        && !now.isBefore(lastEvent.plus(setup.idleLimit()))) {
      ending = Optional.of(Ending.IDLE);
    }
    if (ending.isEmpty() && over.size() == ears.size()) {
      boolean isLifted = lanes.stream().allMatch(lane -> doneAt(lane).isPresent());
      ending = Optional.of(isLifted ? Ending.LIFTED : Ending.SOURCE_ENDED);
    }
  }

  private Optional<SessionTime> doneAt(Lane lane) {
    return moved.map(scale -> scale.doneAt(lane)).orElseGet(lane::lifted);
  }

  private Outcome conclude(Ending why) {
    LOG.info("the run ends at {}: {}", now, why);
    Outcome outcome =
        new Outcome(
            setup.start(),
            why,
            now.since(SessionTime.ZERO),
            isVoid,
            lanes.stream().map(lane -> lane.finish(now, why.name())).toList());
    scribe.end(outcome);
    scribe.close();
    publish();
    for (Courier courier : couriers) {
      courier.conclude(outcome);
    }
    couriers.forEach(Courier::close);
    return outcome;
  }

  private void publish() {
    isNews = false;
    viewedAtNanos = System.nanoTime();
    RehearsalView view = view();
    couriers.forEach(courier -> courier.bring(view));
  }

  private RehearsalView view() {
    List<String> notices = new ArrayList<>(scribe.troubles());
    refusal.ifPresent(notices::add);
    moved.flatMap(scale -> scale.notice(lanes)).ifPresent(notices::add);
    return new RehearsalView(
        ++views,
        now,
        phase(),
        lanes.stream().flatMap(lane -> lane.firstWater().stream()).min(Comparator.naturalOrder()),
        setup.start().feedback(),
        isVoid,
        lanes.stream().map(lane -> lane.view(now)).toList(),
        moved.map(MovedScale::standing),
        notices);
  }

  private Phase phase() {
    boolean isRunning = lanes.stream().anyMatch(lane -> lane.phase() == Phase.RUNNING);
    return isRunning
        ? Phase.RUNNING
        : lanes.stream().map(Lane::phase).min(Comparator.naturalOrder()).orElse(Phase.FINISHED);
  }
}
