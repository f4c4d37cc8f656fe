package pourwright.cli;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.PrintWriter;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.concurrent.CountDownLatch;
import java.util.function.Consumer;
import org.jline.utils.Signals;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import pourwright.coach.Feedback;
import pourwright.detect.DetectorSettings;
import pourwright.device.ScaleAddress;
import pourwright.device.SessionClock;
import pourwright.device.catalogue.Profiles;
import pourwright.history.ScaleHistory;
import pourwright.journal.JournalFile;
import pourwright.journal.Recording;
import pourwright.record.DataFolder;
import pourwright.record.ResultJson;
import pourwright.rig.Place;
import pourwright.session.Audience;
import pourwright.session.Command;
import pourwright.session.Outcome;
import pourwright.session.PlacedScale;
import pourwright.session.Rehearsal;
import pourwright.session.RunStart;
import pourwright.session.Setup;
import pourwright.session.Stand;
import pourwright.sound.Loudspeaker;

/** Wires up one rehearsal, runs it to its end and says what came of it. */
final class LiveRun {
  private final PrintWriter out;
  private final PrintWriter err;
  private final RehearsalOptions options;
  private final OptionalDouble lagSeconds;
  private final Optional<StageDesk> stage;

  LiveRun(PrintWriter out, PrintWriter err, RehearsalOptions options) {
    this(out, err, options, OptionalDouble.empty(), Optional.empty());
  }

  /**
   * A run with scales whose lag may be known.
   *
   * @param lagSeconds by which every display runs behind, where the brewer says so (s)
   */
  LiveRun(PrintWriter out, PrintWriter err, RehearsalOptions options, OptionalDouble lagSeconds) {
    this(out, err, options, lagSeconds, Optional.empty());
  }

  /**
   * A run that is part of a routine.
   *
   * @param stage answers its page and starts its clock
   */
  LiveRun(PrintWriter out, PrintWriter err, RehearsalOptions options, StageDesk stage) {
    this(out, err, options, OptionalDouble.empty(), Optional.of(stage));
  }

  private LiveRun(
      PrintWriter out,
      PrintWriter err,
      RehearsalOptions options,
      OptionalDouble lagSeconds,
      Optional<StageDesk> stage) {
    this.out = out;
    this.err = err;
    this.options = options;
    this.lagSeconds = lagSeconds;
    this.stage = stage;
  }

  /**
   * @return the exit status
   * @throws Failure when a scale cannot be reached or the run cannot be kept
   */
  int run(Ensemble ensemble, Feedback feedback) throws Failure, InterruptedException {
    DataFolder data = options.data();
    try {
      data.checkWritable();
    } catch (IOException refused) {
      throw Failure.of(refused);
    }
    Logs.into(data);
    try (JournalFile journal = OpenJournal.forRecording(data, err)) {
      return run(ensemble, feedback, data, journal);
    } catch (IOException refused) {
      throw Failure.of(refused);
    }
  }

  private int run(Ensemble ensemble, Feedback feedback, DataFolder data, JournalFile journal)
      throws Failure, IOException, InterruptedException {
    Profiles profiles = Profiles.with(data.profiles());
    profiles.problems().forEach(problem -> err.println("note: " + problem));
    err.flush();

    List<PlacedScale> scales =
        open(
            ensemble,
            new Connections(
                profiles,
                SessionClock.start(),
                options.bluetooth(),
                note -> err.println("note: " + note)));
    KnownScales known =
        new KnownScales(
            new ScaleHistory(data.scales()), lagSeconds, note -> err.println("note: " + note));
    Setup setup = setup(ensemble, feedback, scales, journal, known);
    Recording recording = journal.record();
    Relay relay = new Relay();
    CountDownLatch stopped = new CountDownLatch(1);
    Outcome outcome;
    List<String> troubles;
    Optional<LocalPage> page = openPage(scales, journal);
    try {
      try (View view = view(relay);
          Speaker speaker = Speaker.of(options.isHeard())) {
        List<Audience> audiences = new ArrayList<>(List.of(view.audience()));
        page.ifPresent(shown -> audiences.add(shown.live()));
        speaker.audience().ifPresent(audiences::add);
        stage.ifPresent(audiences::add);
        Rehearsal rehearsal = new Rehearsal(setup, List.of(recording), audiences);
        relay.rehearsal = rehearsal;
        page.ifPresent(shown -> shown.live().begin(setup.start(), relay, recording));
        if (options.page().isOpened()) {
          page.ifPresent(LocalPage::showInBrowser);
        }
        for (String signal : List.of("INT", "TERM", "HUP")) {
          Signals.register(
              signal,
              () -> {
                stopped.countDown();
                rehearsal.tell(new Command.Stop());
              });
        }
        outcome = rehearsal.run();
        troubles = rehearsal.troubles();
      }
      say(outcome);
      Keeping keeping = new Keeping(recording, Keeping.usualRefuges(), Keeping.USUAL_PATIENCE, err);
      if (troubles.isEmpty()) {
        keeping.say();
      } else {
        keeping.insist(troubles.get(0), stopped);
      }
      if (page.isPresent()) {
        page.get().awaitLeft(stopped);
      }
    } finally {
      page.ifPresent(LocalPage::close);
    }
    return CommandLine.ExitCode.OK;
  }

  /** Passes on what the keys say, once there is a rehearsal to tell. */
  private static final class Relay implements Consumer<Command> {
    private volatile @Nullable Rehearsal rehearsal;

    @Override
    public void accept(Command command) {
      Rehearsal running = rehearsal;
      if (running != null) {
        running.tell(command);
      }
    }
  }

  /** The sound of this machine, where it is wanted. */
  private record Speaker(Optional<Loudspeaker> loudspeaker) implements AutoCloseable {
    static Speaker of(boolean isWanted) {
      return new Speaker(isWanted ? Optional.of(Loudspeaker.ofMachine(0.8)) : Optional.empty());
    }

    Optional<Audience> audience() {
      return loudspeaker.map(HeardCues::new);
    }

    @Override
    public void close() {
      loudspeaker.ifPresent(Loudspeaker::close);
    }
  }

  /** What shows the run, and gives the terminal back afterwards. */
  private record View(Audience audience, Runnable end) implements AutoCloseable {
    @Override
    public void close() {
      end.run();
    }
  }

  private View view(Consumer<Command> tell) throws Failure {
    if (options.isByLine() || "dumb".equals(System.getenv("TERM"))) {
      return new View(new PlainLines(err), () -> {});
    }
    try {
      TerminalScreen screen = TerminalScreen.open(System.getenv("NO_COLOR") == null, tell);
      return new View(screen, screen::close);
    } catch (IOException | IllegalStateException noTerminal) {
      return new View(new PlainLines(err), () -> {});
    }
  }

  /** The page, or a failure that lets go of the scales. */
  private Optional<LocalPage> openPage(List<PlacedScale> scales, JournalFile journal)
      throws Failure {
    try {
      return LocalPage.open(
          options.page(),
          stage.map(desk -> Desks.with(journal, desk)).orElseGet(() -> Desks.of(journal)),
          err);
    } catch (Failure | RuntimeException failed) {
      scales.forEach(scale -> scale.transport().close());
      throw failed;
    }
  }

  /** All or none. */
  private static List<PlacedScale> open(Ensemble ensemble, Connections connections) throws Failure {
    List<PlacedScale> opened = new ArrayList<>();
    try {
      if (ensemble.isMoved()) {
        return List.of(connections.openMoved(ensemble));
      }
      for (int lane = 0; lane < ensemble.lanes().size(); lane++) {
        Ensemble.Part part = ensemble.lanes().get(lane);
        List<Place> places = part.rig().places();
        for (int i = 0; i < places.size(); i++) {
          opened.add(
              connections.open(
                  part.texts().get(i),
                  part.scales().get(i),
                  new Stand(lane + 1, places.get(i)),
                  part.rig(),
                  part.plan().map(PlanFile::plan),
                  part.moments()));
        }
      }
    } catch (Failure | RuntimeException failed) {
      opened.forEach(scale -> scale.transport().close());
      throw failed;
    }
    return opened;
  }

  private static Setup setup(
      Ensemble ensemble,
      Feedback feedback,
      List<PlacedScale> scales,
      JournalFile journal,
      KnownScales known)
      throws IOException {
    List<RunStart.Lane> lanes = new ArrayList<>();
    List<DetectorSettings> settings = new ArrayList<>();
    for (Ensemble.Part part : ensemble.lanes()) {
      int number = lanes.size() + 1;
      DetectorSettings lane =
          part.plan()
              .map(file -> Lanes.settings(file.plan()))
              .orElseGet(DetectorSettings::standard);
      List<RunStart.HeardScale> heard = new ArrayList<>();
      for (PlacedScale scale : scales) {
        if (ensemble.isMoved() || scale.stand().lane() == number) {
          lane = known.into(lane, scale);
          heard.add(
              new RunStart.HeardScale(
                  new Stand(number, scale.stand().place()),
                  scale.address(),
                  scale.profile(),
                  lane.lagSeconds(scale.stand().place()),
                  lane.noiseGrams(scale.stand().place())));
        }
      }
      lanes.add(
          new RunStart.Lane(
              number,
              part.brewer(),
              part.rig(),
              part.plan().map(file -> new RunStart.WrittenPlan(file.text(), file.plan())),
              heard));
      settings.add(lane);
    }
    boolean isSimulated =
        ensemble.lanes().stream()
            .flatMap(part -> part.scales().stream())
            .allMatch(ScaleAddress.Sim.class::isInstance);
    int fadedRun = journal.countFaded(lanes.get(0).brewer(), isSimulated);
    RunStart start =
        new RunStart(
            Instant.now(), Main.Version.nameAndVersion(), isSimulated, feedback, fadedRun, lanes);
    return new Setup(start, settings, scales, Setup.USUAL_IDLE_LIMIT, ensemble.turns());
  }

  private void say(Outcome outcome) throws Failure {
    if (options.format() == Format.JSON) {
      sayJson(outcome);
    } else {
      for (Outcome.LaneOutcome lane : outcome.lanes()) {
        if (outcome.lanes().size() > 1) {
          out.println(outcome.start().lanes().get(lane.number() - 1).brewer());
        }
        out.print(ResultText.of(lane.analysis().findings(), lane.comparison()));
      }
    }
    out.flush();
  }

  /** One result, or for several brewers an object with one result per lane. */
  private void sayJson(Outcome outcome) throws Failure {
    try (JsonGenerator json = Json.write(out)) {
      boolean isOne = outcome.lanes().size() == 1;
      json.writeStartObject();
      if (!isOne) {
        json.writeNumberField("format", 1);
        json.writeArrayFieldStart("lanes");
      }
      for (Outcome.LaneOutcome lane : outcome.lanes()) {
        if (!isOne) {
          json.writeStartObject();
          json.writeStringField("brewer", outcome.start().lanes().get(lane.number() - 1).brewer());
        }
        ResultJson.writeMembers(json, lane.analysis().findings(), lane.comparison(), List.of());
        if (!isOne) {
          json.writeEndObject();
        }
      }
      if (!isOne) {
        json.writeEndArray();
      }
      json.writeEndObject();
      json.writeRaw('\n');
    } catch (IOException failed) {
      throw new Failure("the result could not be written: " + failed.getMessage(), failed);
    }
  }
}
