package pourwright.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.URI;
import java.security.SecureRandom;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicLong;
import org.jspecify.annotations.Nullable;
import pourwright.coach.Feedback;
import pourwright.detect.DetectorSettings;
import pourwright.device.Transport.Arrival;
import pourwright.device.catalogue.Profiles;
import pourwright.device.protocol.Profile;
import pourwright.device.simulated.SimulatedScale;
import pourwright.plan.Plan;
import pourwright.plan.PlanReader;
import pourwright.plan.PlanReading;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.roving.Turn;
import pourwright.session.PlacedScale;
import pourwright.session.Rehearsal;
import pourwright.session.RehearsalView;
import pourwright.session.RunStart;
import pourwright.session.Setup;
import pourwright.session.Stand;
import pourwright.simulate.Moments;
import pourwright.simulate.RovingSimulation;
import pourwright.simulate.Scenario;
import pourwright.simulate.Simulation;
import pourwright.simulate.Weighing;
import pourwright.stage.Odds;
import pourwright.stage.Outcome;
import pourwright.stage.Patience;
import pourwright.stage.StageFile;
import pourwright.stage.StageReader;
import pourwright.stage.StageReading;
import pourwright.stage.StageSolver;
import pourwright.stage.Timetable;
import pourwright.web.Follower;
import pourwright.web.HeldTransport;
import pourwright.web.LivePage;
import pourwright.web.PageServer;
import pourwright.web.PageSettings;
import pourwright.web.Pairing;

/**
 * A routine of three brewers with its page. Simulated scales stand under the first two, and the
 * third goes by the clock; or one scale is moved between all three. A test says how far the run may
 * go on; then all of it stands still.
 */
final class RehearsedStage implements AutoCloseable {
  static final String ROUTINE =
      """
      format: 1
      title: Three brewers
      brewers:
      - {name: left, plan: plan.yaml, drain_s: [30, 40]}
      - {name: middle, plan: plan.yaml, drain_s: [30, 40]}
      - {name: right, plan: plan.yaml, drain_s: [30, 40]}
      talk:
      - {say: what to look for in the cup, from_s: 60, until_s: 240, length_s: 6}
      """;

  private static final int SCALES = 2;
  final Timetable timetable;
  final StageFile file;
  final AtomicLong nanos = new AtomicLong();
  private final LivePage live = new LivePage();
  private final Follower follower = new Follower(live);
  private final StageDesk desk;
  private final PageServer server;
  private final List<HeldTransport> scales = new ArrayList<>();
  private double played;
  private @Nullable Thread running;

  /** Who has scales. */
  private enum Scales {
    NONE,
    TWO,
    ONE_MOVED
  }

  /** Found once for all tests. */
  private static final class Planned {
    static final Plan PLAN =
        ((PlanReading.Understood) PlanReader.read(StageMockIT.PLAN, "plan.yaml")).plan();
    static final StageFile FILE =
        ((StageReading.Understood)
                StageReader.read(
                    ROUTINE, "routine.yaml", name -> Optional.of(PLAN), name -> Optional.empty()))
            .file();
    static final Outcome.Planned OUTCOME =
        (Outcome.Planned)
            StageSolver.solve(
                FILE.routine(), Patience.of(Duration.ofSeconds(60), System::nanoTime));
  }

  private RehearsedStage(Scales who) throws IOException {
    file = Planned.FILE;
    Outcome.Planned planned = Planned.OUTCOME;
    timetable = planned.timetable();
    boolean isLed = who != Scales.NONE;
    Odds odds = Odds.of(timetable, file.routine(), file.spreads(), 7, 50);
    Staged staged = new Staged(file, planned, Optional.of(odds), 0, 7, "the test", "the test");
    // led, the clock stands still between what the scales say; by hand, it goes when told
    desk = new StageDesk(staged, new StageClock(nanos::get, isLed ? 0 : 1), isLed);
    server =
        PageServer.open(
            new PageSettings(0, false),
            live,
            new Pairing(new SecureRandom(), System::nanoTime, code -> {}),
            List.of(desk));
    switch (who) {
      case TWO -> rehearse(ofTwo());
      case ONE_MOVED -> rehearse(ofOneMoved());
      case NONE -> {}
    }
  }

  /** The scales lead the clock. */
  static RehearsedStage led() throws IOException {
    return new RehearsedStage(Scales.TWO);
  }

  /** One scale leads the clock, and is moved from brewer to brewer. */
  static RehearsedStage moved() throws IOException {
    return new RehearsedStage(Scales.ONE_MOVED);
  }

  /** The clock is started by hand, and is that of {@link #nanos}. */
  static RehearsedStage byHand() throws IOException {
    return new RehearsedStage(Scales.NONE);
  }

  private Setup ofTwo() {
    List<Moments> hands = SimulatedHands.of(timetable, SCALES);
    List<PlacedScale> placed = new ArrayList<>();
    List<RunStart.Lane> lanes = new ArrayList<>();
    for (int lane = 1; lane <= SCALES; lane++) {
      Simulation rig =
          new Simulation(
              Planned.PLAN,
              Scenario.findByName("bench").orElseThrow(),
              Rig.WHOLE,
              lane,
              Optional.of(hands.get(lane - 1)));
      placed.add(placed(rig, lane));
      lanes.add(lane(lane, placed.get(lane - 1)));
    }
    return new Setup(start(lanes), settings(SCALES), placed, Setup.USUAL_IDLE_LIMIT);
  }

  private Setup ofOneMoved() {
    int brewers = file.routine().stations().size();
    List<Turn> turns = ScaleMoves.turns(timetable);
    RovingSimulation rigs =
        new RovingSimulation(
            SimulatedHands.of(timetable, brewers).stream()
                .map(hands -> new RovingSimulation.Served(Planned.PLAN, hands))
                .toList(),
            turns.stream()
                .map(turn -> new RovingSimulation.Visit(turn.lane() - 1, turn.pours()))
                .toList(),
            Scenario.findByName("bench").orElseThrow(),
            1);
    PlacedScale scale = placed(rigs, turns.get(0).lane());
    List<RunStart.Lane> lanes = new ArrayList<>();
    for (int lane = 1; lane <= brewers; lane++) {
      lanes.add(lane(lane, scale));
    }
    return new Setup(
        start(lanes), settings(brewers), List.of(scale), Setup.USUAL_IDLE_LIMIT, turns);
  }

  private PlacedScale placed(Weighing weighed, int lane) {
    Profile profile = Profiles.shipped().find("status-letter").orElseThrow();
    SimulatedScale scale = new SimulatedScale(weighed, Place.WHOLE, profile);
    List<Arrival> arrivals = new ArrayList<>();
    for (Optional<Arrival> one = scale.next(); one.isPresent(); one = scale.next()) {
      arrivals.add(one.get());
    }
    HeldTransport held = new HeldTransport(arrivals);
    scales.add(held);
    return new PlacedScale(
        new Stand(lane, Place.WHOLE),
        "sim:bench?seed=" + lane,
        profile.name(),
        true,
        held,
        profile.newDecoder(),
        profile.commands());
  }

  private RunStart.Lane lane(int number, PlacedScale scale) {
    Stand stand = new Stand(number, Place.WHOLE);
    return new RunStart.Lane(
        number,
        file.routine().stations().get(number - 1).name(),
        Rig.WHOLE,
        Optional.of(new RunStart.WrittenPlan(StageMockIT.PLAN, Planned.PLAN)),
        List.of(new RunStart.HeardScale(stand, scale.address(), scale.profile())));
  }

  private static RunStart start(List<RunStart.Lane> lanes) {
    return new RunStart(Instant.now(), "test", true, Feedback.FULL, 0, lanes);
  }

  private static List<DetectorSettings> settings(int lanes) {
    return Collections.nCopies(lanes, DetectorSettings.standard());
  }

  private void rehearse(Setup setup) {
    Rehearsal rehearsal = new Rehearsal(setup, List.of(), List.of(desk, follower));
    live.begin(setup.start(), rehearsal::tell, afterword -> {});
    running = follower.follow(rehearsal);
  }

  URI address() {
    return server.address().resolve("/stage");
  }

  /** Lets the scales show what stands on them before the first water. */
  void playToStillness() throws InterruptedException {
    playTo(1);
  }

  /** Lets the scales go on until one of them has water. */
  void playToFirstWater() throws InterruptedException {
    while (follower.last().firstWater().isEmpty()) {
      playTo(played + 1);
    }
  }

  /** Lets the scales go on to a moment of the stage clock (s); the first water must have come. */
  void playToStage(double seconds) throws InterruptedException {
    RehearsalView view = follower.last();
    int firstLane =
        view.lanes().stream()
            .filter(lane -> lane.firstWater().equals(view.firstWater()))
            .findFirst()
            .orElseThrow()
            .number();
    double zero = view.firstWater().orElseThrow().seconds() - timetable.firstPourOf(firstLane - 1);
    // in steps, as scales would, so that none runs ahead of the other
    for (double at = played + 1; at < zero + seconds; at++) {
      playTo(at);
    }
    playTo(zero + seconds);
  }

  private void playTo(double seconds) throws InterruptedException {
    assertThat(seconds).as("a run of two brewers is over long before").isLessThan(600);
    played = seconds;
    scales.forEach(scale -> scale.playTo(seconds));
    follower.await(seconds - 0.3);
  }

  @Override
  public void close() {
    Thread thread = running;
    if (thread != null) {
      thread.interrupt();
    }
    server.close();
  }
}
