package pourwright.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.URI;
import java.security.SecureRandom;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicLong;
import org.jspecify.annotations.Nullable;
import pourwright.cli.StageOptions.Staged;
import pourwright.coach.Feedback;
import pourwright.detect.DetectorSettings;
import pourwright.device.Transport.Arrival;
import pourwright.device.catalogue.Profiles;
import pourwright.device.protocol.Profile;
import pourwright.device.simulated.SimulatedScale;
import pourwright.plan.PlanReader;
import pourwright.plan.PlanReading;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.session.PlacedScale;
import pourwright.session.Rehearsal;
import pourwright.session.RehearsalView;
import pourwright.session.RunStart;
import pourwright.session.Setup;
import pourwright.session.Stand;
import pourwright.simulate.Moments;
import pourwright.simulate.Scenario;
import pourwright.simulate.Simulation;
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
 * third goes by the clock. A test says how far the run may go on; then all of it stands still.
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
  private final Follower follower = new Follower();
  private final StageDesk desk;
  private final PageServer server;
  private final List<HeldTransport> scales = new ArrayList<>();
  private double played;
  private @Nullable Thread running;

  private RehearsedStage(boolean isLed) throws IOException {
    PlanReading.Understood plan =
        (PlanReading.Understood) PlanReader.read(StageMockIT.PLAN, "plan.yaml");
    file =
        ((StageReading.Understood)
                StageReader.read(
                    ROUTINE,
                    "routine.yaml",
                    name -> Optional.of(plan.plan()),
                    name -> Optional.empty()))
            .file();
    Outcome.Planned planned =
        (Outcome.Planned)
            StageSolver.solve(
                file.routine(), Patience.of(Duration.ofSeconds(60), System::nanoTime));
    timetable = planned.timetable();
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
    if (isLed) {
      rehearse(plan.plan());
    }
  }

  /** The scales lead the clock. */
  static RehearsedStage led() throws IOException {
    return new RehearsedStage(true);
  }

  /** The clock is started by hand, and is that of {@link #nanos}. */
  static RehearsedStage byHand() throws IOException {
    return new RehearsedStage(false);
  }

  private void rehearse(pourwright.plan.Plan plan) {
    Profile profile = Profiles.shipped().find("status-letter").orElseThrow();
    List<Moments> hands = StageMockCommand.hands(timetable, SCALES);
    List<RunStart.Lane> lanes = new ArrayList<>();
    List<PlacedScale> placed = new ArrayList<>();
    List<DetectorSettings> settings = new ArrayList<>();
    for (int lane = 1; lane <= SCALES; lane++) {
      Stand stand = new Stand(lane, Place.WHOLE);
      String address = "sim:bench?seed=" + lane;
      SimulatedScale scale =
          new SimulatedScale(
              new Simulation(
                  plan,
                  Scenario.findByName("bench").orElseThrow(),
                  Rig.WHOLE,
                  lane,
                  Optional.of(hands.get(lane - 1))),
              Place.WHOLE,
              profile);
      List<Arrival> arrivals = new ArrayList<>();
      for (Optional<Arrival> one = scale.next(); one.isPresent(); one = scale.next()) {
        arrivals.add(one.get());
      }
      HeldTransport held = new HeldTransport(arrivals);
      scales.add(held);
      placed.add(
          new PlacedScale(
              stand,
              address,
              profile.name(),
              true,
              held,
              profile.newDecoder(),
              profile.commands()));
      lanes.add(
          new RunStart.Lane(
              lane,
              file.routine().stations().get(lane - 1).name(),
              Rig.WHOLE,
              Optional.of(new RunStart.WrittenPlan(StageMockIT.PLAN, plan)),
              List.of(new RunStart.HeardScale(stand, address, profile.name()))));
      settings.add(DetectorSettings.standard());
    }
    RunStart start = new RunStart(Instant.now(), "test", true, Feedback.FULL, 0, lanes);
    Rehearsal rehearsal =
        new Rehearsal(
            new Setup(start, settings, placed, Setup.USUAL_IDLE_LIMIT),
            List.of(),
            List.of(live, desk, follower));
    live.begin(start, rehearsal::tell, afterword -> {});
    running = follower.follow(rehearsal);
  }

  URI address() {
    return server.address().resolve("/stage");
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
