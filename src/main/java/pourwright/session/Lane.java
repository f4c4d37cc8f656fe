package pourwright.session;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import pourwright.coach.Coach;
import pourwright.coach.CoachSettings;
import pourwright.coach.Cue;
import pourwright.coach.Guidance;
import pourwright.compare.Comparator;
import pourwright.compare.Comparison;
import pourwright.compare.MadePour;
import pourwright.compare.PouredCurve;
import pourwright.compare.Routine;
import pourwright.detect.Analysis;
import pourwright.detect.Basis;
import pourwright.detect.Curve;
import pourwright.detect.Detector;
import pourwright.detect.DetectorSettings;
import pourwright.detect.Disturbance;
import pourwright.detect.Hindsight;
import pourwright.detect.Outlook;
import pourwright.detect.PourEvent;
import pourwright.device.Decoder.Decoded;
import pourwright.plan.Schedule;
import pourwright.reading.Reading;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/** One brewer's rig during a run; owned by the thread that runs the rehearsal. */
final class Lane {
  private static final Logger LOG = LoggerFactory.getLogger(Lane.class);

  private final RunStart.Lane start;
  private final boolean isMoved;
  private final DetectorSettings settings;
  private final Optional<Schedule> schedule;
  private final CoachSettings coaching;
  private final List<Link> links;
  private final Detector detector;
  private final Consumer<PourEvent> announced;
  private final Prelude prelude;
  private final List<PourEvent> events = new ArrayList<>();
  private final List<SeenPour> pours = new ArrayList<>();
  private final Map<Integer, SessionTime> drained = new HashMap<>();
  private final Map<Integer, Mass> estimates = new HashMap<>();
  private Phase phase = Phase.LOOKING_FOR_SCALE;
  private boolean isZeroed;
  private Optional<SessionTime> firstWater = Optional.empty();
  private Optional<SessionTime> lifted = Optional.empty();
  private Optional<SessionTime> leftAt = Optional.empty();
  private Optional<Outlook> outlook = Optional.empty();
  private Optional<Comparison> soFar = Optional.empty();
  private Optional<Coach> coach;
  private Optional<Guidance> guidance = Optional.empty();
  private final List<Cue> cues = new ArrayList<>();

  /**
   * @param isMoved whether its scale serves other lanes too
   */
  Lane(
      RunStart.Lane start,
      DetectorSettings settings,
      CoachSettings coaching,
      List<PlacedScale> scales,
      boolean isMoved,
      Consumer<PourEvent> announced) {
    this.start = start;
    this.isMoved = isMoved;
    this.settings = settings;
    this.coaching = coaching;
    this.schedule = start.plan().map(written -> Schedule.of(written.plan()));
    this.coach = schedule.map(this::newCoach);
    this.links =
        scales.stream()
            .filter(scale -> scale.stand().lane() == start.number())
            .sorted((one, other) -> one.stand().place().compareTo(other.stand().place()))
            .map(Link::new)
            .toList();
    this.detector = new Detector(start.rig(), settings, this::take);
    this.announced = announced;
    this.prelude = new Prelude(start.plan().map(written -> written.plan().dose()));
  }

  int number() {
    return start.number();
  }

  Phase phase() {
    return phase;
  }

  Optional<SessionTime> firstWater() {
    return firstWater;
  }

  Optional<SessionTime> lifted() {
    return lifted;
  }

  /** Whether a pour runs now. */
  boolean isPouring() {
    return !pours.isEmpty() && pours.get(pours.size() - 1).end().isEmpty();
  }

  /** What the scale at {@code place} said together. */
  void hear(Place place, List<Decoded> inOrder, Consumer<Reading> weighed) {
    Link link = link(place);
    for (Decoded decoded : inOrder) {
      if (decoded instanceof Decoded.Weighed weight) {
        link.weighed(weight.reading());
        weighed.accept(weight.reading());
        detector.weigh(place, weight.reading());
      } else if (decoded instanceof Decoded.OutOfRange) {
        link.outOfRange();
      } else if (decoded instanceof Decoded.Told told) {
        link.battery(told.batteryPercent());
      } else if (decoded instanceof Decoded.Junk junk) {
        link.junk();
        LOG.debug("{} at {}: {}", link.stand().word(), junk.at(), junk.why());
      }
    }
    look();
  }

  /**
   * The link broke. The detector learns only that it sees nothing: what the gap means it takes from
   * the times of the readings around it, live as in a replay of the kept files.
   */
  void lost(Place place, SessionTime at, String why) {
    link(place).lost(at, why);
    detector.silence(place, at);
    look();
  }

  /**
   * The one scale is taken to another rig. A pour whose end was not yet certain ends with what was
   * weighed; the detector, which sees a gap like any other, says the same when the scale is back.
   */
  void left(Place place, SessionTime at) {
    leftAt = Optional.of(at);
    link(place).away(true);
    detector.silence(place, at);
    if (isPouring()) {
      SeenPour running = pours.get(pours.size() - 1);
      SessionTime end = outlook.map(Outlook::at).filter(seen -> seen.isBefore(at)).orElse(at);
      count(new PourEvent.PourEnded(running.index(), end, at, running.poured()));
    }
  }

  /** The one scale stands under another rig at first. */
  void awaitScale() {
    links.forEach(link -> link.away(true));
  }

  /** The one scale stands here again, or for the first time. */
  void arrived(Place place) {
    leftAt = Optional.empty();
    link(place).away(false);
  }

  /** Since when the one scale has been elsewhere; empty while it is here, and before it came. */
  Optional<SessionTime> leftAt() {
    return leftAt;
  }

  void restored(Place place) {
    link(place).restored();
  }

  /** The brewer saw the bed run dry. */
  void markDrained(SessionTime at) {
    int pour = pours.size();
    if (pour > 0 && !isPouring()) {
      drained.put(pour, at);
      coach = coach.map(before -> before.markedDrained(at));
    }
  }

  void estimate(int pour, Mass poured) {
    estimates.put(pour, poured);
  }

  private Link link(Place place) {
    return links.stream()
        .filter(link -> link.stand().place() == place)
        .findFirst()
        .orElseThrow(() -> new IllegalArgumentException("no scale weighs " + place));
  }

  private void look() {
    if (links.stream().allMatch(Link::isHeard)) {
      Outlook now = detector.outlook();
      boolean isLost = links.stream().anyMatch(Link::isLost);
      if (isMoved && !isLost && now.doing() == Outlook.Doing.BLIND) {
        return; // the scale was elsewhere, which is no loss
      }
      outlook = Optional.of(now);
      prelude.look(now.inThisPour()).forEach(this::count);
      showRunningPour(now);
      if (phase == Phase.LOOKING_FOR_SCALE) {
        moveTo(Phase.SETTLING, "every scale is heard");
      }
      boolean isReady = now.doing() == Outlook.Doing.RESTING && isTared();
      if (phase == Phase.SETTLING && isReady) {
        moveTo(Phase.ARMED, "still and tared");
      } else if (phase == Phase.ARMED && !isReady && now.doing() != Outlook.Doing.POURING) {
        moveTo(Phase.SETTLING, "the rig moved");
      }
    }
  }

  private boolean isTared() {
    return links.stream().allMatch(Link::showsAboutZero);
  }

  private void showRunningPour(Outlook now) {
    if (isPouring()) {
      int last = pours.size() - 1;
      SeenPour running = pours.get(last);
      pours.set(
          last, new SeenPour(running.index(), running.start(), Optional.empty(), now.inThisPour()));
    }
  }

  private Coach newCoach(Schedule plan) {
    return start.rig() == Rig.SERVER
        ? Coach.withoutAmounts(plan, coaching)
        : Coach.of(plan, coaching);
  }

  /** An event of the detector. */
  private void take(PourEvent event) {
    events.add(event);
    LOG.info("lane {}: {}", number(), event);
    if (event instanceof PourEvent.Tared) {
      isZeroed = true;
    }
    prelude.admit(event, phase == Phase.ARMED).forEach(this::count);
    announced.accept(event);
  }

  /** An event of the run itself. */
  private void count(PourEvent event) {
    if (event instanceof PourEvent.PourStarted started) {
      pours.add(new SeenPour(started.index(), started.at(), Optional.empty(), Mass.ZERO));
      if (firstWater.isEmpty()) {
        firstWater = Optional.of(started.at());
        moveTo(Phase.RUNNING, "first water");
      }
    } else if (event instanceof PourEvent.PourEnded ended) {
      boolean isKnown =
          pours.stream().anyMatch(pour -> pour.index() == ended.index() && pour.end().isPresent());
      end(ended);
      if (isKnown) {
        return; // said before, when the scale left
      }
    } else if (event instanceof PourEvent.BedDrained bed && bed.basis() != Basis.BOUNDED) {
      drained.putIfAbsent(bed.afterPour(), bed.at());
    } else if (event instanceof PourEvent.DripperLifted lift && phase == Phase.RUNNING) {
      lifted = Optional.of(lift.knownAt());
    } else if (event instanceof PourEvent.Disturbed moved
        && moved.kind() == Disturbance.Kind.VESSEL_LIFTED) {
      lifted = Optional.empty();
    } else if (event instanceof PourEvent.Discarded) {
      beginAnew();
      return;
    }
    coach = coach.map(before -> before.heard(event));
  }

  /** What was poured so far only rinsed the paper. */
  private void beginAnew() {
    pours.clear();
    drained.clear();
    estimates.clear();
    firstWater = Optional.empty();
    lifted = Optional.empty();
    soFar = Optional.empty();
    coach = schedule.map(this::newCoach);
    moveTo(Phase.SETTLING, "what was poured was no brew");
  }

  /** Whether the rig may have been taken off only to throw the rinsing water away. */
  boolean mayBeRinsing() {
    return pours.size() == 1 && schedule.map(plan -> plan.slots().size() > 1).orElse(true);
  }

  /**
   * Lets the coach look at the clock.
   *
   * @return whether it said something new
   */
  boolean coach(SessionTime now) {
    if (coach.isEmpty() || phase == Phase.FINISHED) {
      return false;
    }
    Coach.Step step = coach.get().at(now, outlook);
    coach = Optional.of(step.next());
    guidance = Optional.of(step.guidance());
    cues.addAll(step.cues());
    return !step.cues().isEmpty();
  }

  private void end(PourEvent.PourEnded ended) {
    for (int i = 0; i < pours.size(); i++) {
      SeenPour pour = pours.get(i);
      if (pour.index() == ended.index()) {
        pours.set(
            i, new SeenPour(ended.index(), pour.start(), Optional.of(ended.at()), ended.poured()));
      }
    }
    soFar = schedule.map(this::compareSoFar);
  }

  private Comparison compareSoFar(Schedule plan) {
    List<MadePour> made = new ArrayList<>();
    for (SeenPour pour : pours) {
      pour.end()
          .ifPresent(
              end ->
                  made.add(
                      new MadePour(
                          pour.index(),
                          pour.start(),
                          end,
                          pour.poured(),
                          meanFlow(pour.poured(), end.secondsSince(pour.start())))));
    }
    return Comparator.compareSoFar(new Routine(plan, made, drained), PouredCurve.NONE);
  }

  private static Flow meanFlow(Mass poured, double seconds) {
    return seconds > 0 ? Flow.of(poured, seconds) : Flow.ZERO;
  }

  /** The one place that changes the phase. */
  private void moveTo(Phase next, String reason) {
    LOG.info("lane {}: {} -> {}: {}", number(), phase, next, reason);
    phase = next;
  }

  Outcome.LaneOutcome finish(SessionTime at, String reason) {
    detector.finish(at);
    moveTo(Phase.FINISHED, reason);
    List<Curve> curves = links.stream().map(Link::curve).toList();
    Analysis analysis = new Analysis(events, Hindsight.of(start.rig(), settings, curves, events));
    PouredCurve poured = PouredCurve.of(analysis.findings(), curves);
    return new Outcome.LaneOutcome(
        number(),
        analysis,
        poured,
        start
            .plan()
            .map(written -> Comparator.compare(written.plan(), analysis.findings(), poured)),
        estimates);
  }

  LaneView view(SessionTime now) {
    return new LaneView(
        number(),
        start.brewer(),
        start.rig(),
        schedule,
        phase,
        isZeroed || isTared(),
        firstWater,
        outlook,
        pours,
        soFar,
        guidance,
        cues,
        links.stream().map(link -> link.view(now)).toList());
  }
}
