package pourwright.web;

import java.io.IOException;
import java.io.InputStream;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.security.SecureRandom;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import pourwright.coach.Feedback;
import pourwright.detect.DetectorSettings;
import pourwright.device.ScaleCommands;
import pourwright.plan.PlanReader;
import pourwright.plan.PlanReading;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.session.Afterword;
import pourwright.session.PlacedScale;
import pourwright.session.Rehearsal;
import pourwright.session.RunStart;
import pourwright.session.Setup;
import pourwright.session.Stand;

/** A real rehearsal of the demo plan with its page; a test says how far it may go on. */
final class RehearsedPage implements AutoCloseable {
  final List<Afterword> kept = new CopyOnWriteArrayList<>();
  private final LivePage live = new LivePage();
  private final Pairing pairing;
  private final PageServer server;
  private final Feedback feedback;
  private int fadedRuns;
  private final Follower follower = new Follower(live);
  private List<HeldTransport> transports = List.of();
  private Optional<Thread> running = Optional.empty();

  private RehearsedPage(Feedback feedback, boolean lan) throws IOException {
    this.feedback = feedback;
    this.pairing = new Pairing(new SecureRandom(), System::nanoTime, code -> {});
    this.server = PageServer.open(new PageSettings(0, lan), live, pairing, List.of());
  }

  static RehearsedPage open(Feedback feedback, boolean lan, ScriptedBrew... lanes)
      throws IOException {
    RehearsedPage page = new RehearsedPage(feedback, lan);
    page.rehearse(lanes);
    return page;
  }

  /** Under fading feedback, after so many runs under it. */
  static RehearsedPage faded(int runsBefore, ScriptedBrew brew) throws IOException {
    RehearsedPage page = new RehearsedPage(Feedback.FADED, false);
    page.fadedRuns = runsBefore;
    page.rehearse(brew);
    return page;
  }

  static String demoPlan() throws IOException {
    try (InputStream in =
        RehearsedPage.class.getResourceAsStream("/pourwright/plans/regional-heat.yaml")) {
      return new String(Objects.requireNonNull(in).readAllBytes(), StandardCharsets.UTF_8);
    }
  }

  /** Begins another run on the same page. */
  void rehearse(ScriptedBrew... brews) throws IOException {
    endRun();
    String text = demoPlan();
    PlanReading.Understood plan =
        (PlanReading.Understood) PlanReader.read(text, "regional-heat.yaml");
    List<RunStart.Lane> lanes = new ArrayList<>();
    List<PlacedScale> scales = new ArrayList<>();
    List<HeldTransport> held = new ArrayList<>();
    List<DetectorSettings> settings = new ArrayList<>();
    for (int i = 0; i < brews.length; i++) {
      Stand stand = new Stand(i + 1, Place.WHOLE);
      lanes.add(
          new RunStart.Lane(
              i + 1,
              List.of("left brewer", "right brewer", "third brewer", "fourth brewer").get(i),
              Rig.WHOLE,
              Optional.of(new RunStart.WrittenPlan(text, plan.plan())),
              List.of(new RunStart.HeardScale(stand, "test:" + i, "one-number"))));
      HeldTransport transport = new HeldTransport(brews[i].arrivals());
      held.add(transport);
      scales.add(
          new PlacedScale(
              stand,
              "test:" + i,
              "one-number",
              true,
              transport,
              new ScriptedBrew.NumberDecoder(),
              ScaleCommands.NONE));
      settings.add(DetectorSettings.standard());
    }
    RunStart start =
        new RunStart(Instant.now(), "pourwright test", true, feedback, fadedRuns, lanes);
    Rehearsal rehearsal =
        new Rehearsal(
            new Setup(start, settings, scales, Setup.USUAL_IDLE_LIMIT),
            List.of(),
            List.of(follower));
    transports = held;
    live.begin(start, rehearsal::tell, kept::add);
    running = Optional.of(follower.follow(rehearsal));
  }

  /** Lets the run go on, as fast as it goes, up to this moment of the recording (s). */
  void playTo(double seconds) {
    transports.forEach(transport -> transport.playTo(seconds));
  }

  /** Waits until the page was shown a view of this moment (s), or the run is over. */
  void awaitView(double seconds) throws InterruptedException {
    follower.await(seconds);
  }

  /** Waits until the run is judged. */
  void awaitEnd() throws InterruptedException {
    follower.await(Double.POSITIVE_INFINITY);
  }

  URI address() {
    return server.address();
  }

  List<URI> lanAddresses() {
    return server.listLanAddresses();
  }

  String code() {
    return pairing.code();
  }

  LivePage live() {
    return live;
  }

  private void endRun() {
    running.ifPresent(Thread::interrupt);
  }

  @Override
  public void close() {
    endRun();
    server.close();
  }
}
