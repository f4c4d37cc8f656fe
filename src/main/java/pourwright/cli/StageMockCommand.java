package pourwright.cli;

import java.io.PrintWriter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.jline.utils.Signals;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;
import pourwright.cli.StageOptions.Staged;
import pourwright.coach.Feedback;
import pourwright.device.ScaleAddress;
import pourwright.journal.JournalFile;
import pourwright.rig.Rig;
import pourwright.simulate.Moments;
import pourwright.stage.Chore;
import pourwright.stage.Clock;
import pourwright.stage.Job;
import pourwright.stage.Outcome;
import pourwright.stage.Timetable;
import pourwright.stage.Totals;

/** A mock run with the full clock. */
@Command(
    name = "mock",
    versionProvider = Main.Version.class,
    mixinStandardHelpOptions = true,
    usageHelpAutoWidth = true,
    header = "Run the whole routine against the clock, with scales or without.",
    description = {
      "",
      "Without scales the clock starts by itself after a countdown. With one --scale for each"
          + " brewer, from left to right, the first water starts it, every brewer is guided by its"
          + " own plan, and each run is judged and kept. Fewer scales than brewers: the first"
          + " brewers have them, the others go by the clock; or one scale is moved from brewer to"
          + " brewer (--moved).",
      ""
    },
    sortOptions = false)
final class StageMockCommand implements Callable<Integer> {
  private static final int LOOK_MILLIS = 50;

  @Mixin private StageOptions options = new StageOptions();

  @Option(
      names = "--scale",
      paramLabel = "SCALE",
      description = "Where a brewer's scale is, as in `rehearse`; once per brewer.")
  private List<String> scales = new ArrayList<>();

  @Option(
      names = "--moved",
      description =
          "The one --scale is moved from brewer to brewer, as the timetable says. So it is too"
              + " where the routine has 'scale_s', the time that takes.")
  private boolean isMoved;

  @Option(
      names = "--in",
      paramLabel = "S",
      defaultValue = "5",
      description = "Countdown before the clock starts. Default: ${DEFAULT-VALUE}.")
  private int countdown = 5;

  @Option(
      names = "--speed",
      paramLabel = "TIMES",
      defaultValue = "1",
      description = "Times as fast as life, without scales. Default: ${DEFAULT-VALUE}.")
  private double speed = 1;

  @Mixin private ScaleRehearsalOptions run = new ScaleRehearsalOptions();

  @Spec private @Nullable CommandSpec spec;

  @Override
  public Integer call() throws Failure, InterruptedException {
    CommandLine own = Objects.requireNonNull(spec).commandLine();
    if (!(speed > 0 && speed <= 1_000) || countdown < 0 || countdown > 600) {
      throw misuse("--speed must be more than 0 and at most 1000, --in 0 to 600 s", own);
    }
    Staged staged = options.staged(own.getErr(), new OpenJournal());
    if (!(staged.outcome() instanceof Outcome.Planned planned)) {
      StageText.print(staged, own.getErr());
      throw new Failure("there is no timetable to run");
    }
    if (!scales.isEmpty()) {
      return withScales(staged, planned.timetable(), own);
    }
    return byClock(staged, planned.timetable(), own);
  }

  private int withScales(Staged staged, Timetable timetable, CommandLine own)
      throws Failure, InterruptedException {
    List<String> names =
        staged.file().routine().stations().stream().map(station -> station.name()).toList();
    if (scales.size() > names.size()) {
      throw misuse(
          scales.size() + " scales for " + names.size() + " brewers: one for each is enough", own);
    }
    if (scales.size() < names.size() && !isScaleMoved(staged)) {
      own.getErr()
          .println(
              "note: by the clock alone, without a scale: "
                  + String.join(", ", names.subList(scales.size(), names.size())));
    }
    List<ScaleAddress> addresses = new ArrayList<>();
    for (String scale : scales) {
      try {
        addresses.add(ScaleAddress.parse(scale));
      } catch (IllegalArgumentException wrong) {
        throw misuse(String.valueOf(wrong.getMessage()), own);
      }
    }
    Ensemble ensemble = ensemble(staged, timetable, names, addresses, own);
    double lifeSpeed = addresses.get(0) instanceof ScaleAddress.Sim sim ? sim.speed() : 1;
    StageDesk desk = new StageDesk(staged, new StageClock(System::nanoTime, lifeSpeed), true);
    own.getErr().println("the stage clock is on the page at /stage; the first water starts it");
    int status =
        new LiveRun(own.getOut(), own.getErr(), run, desk)
            .run(ensemble.withHands(hands(timetable, names.size())), Feedback.FULL);
    PrintWriter out = run.format() == Format.TEXT ? own.getOut() : own.getErr();
    desk.timing().ifPresent(timing -> timing.print(names, out));
    return status;
  }

  private boolean isScaleMoved(Staged staged) {
    return isMoved
        || (scales.size() == 1
            && staged.file().routine().stations().size() > 1
            && staged.file().routine().hands().scale() > 0);
  }

  private Ensemble ensemble(
      Staged staged,
      Timetable timetable,
      List<String> names,
      List<ScaleAddress> addresses,
      CommandLine own) {
    try {
      if (!isScaleMoved(staged)) {
        return Ensemble.of(
            options.plans().subList(0, scales.size()), Optional.empty(), scales, addresses, names);
      }
      if (scales.size() != 1) {
        throw misuse("--moved is for one --scale, not " + scales.size(), own);
      }
      if (options.plans().stream().anyMatch(file -> file.plan().rig() != Rig.WHOLE)) {
        throw misuse("a scale that is moved between stands under the whole rig", own);
      }
      StageText.moves(staged, own.getErr());
      return Ensemble.ofMoved(
          options.plans(), scales.get(0), addresses.get(0), names, ScaleMoves.turns(timetable));
    } catch (IllegalArgumentException wrong) {
      throw misuse(String.valueOf(wrong.getMessage()), own);
    }
  }

  /** When the hands are at each brewer, for simulated brewers to be there too. */
  static List<Moments> hands(Timetable timetable, int brewers) {
    List<Moments> hands = new ArrayList<>();
    double zero = timetable.startOf(slot -> slot.job().chore() == Chore.POUR);
    for (int i = 0; i < brewers; i++) {
      int station = i;
      hands.add(
          new Moments(
              timetable.slots().stream()
                  .filter(slot -> slot.job().station() == station)
                  .filter(slot -> slot.job().chore() == Chore.POUR)
                  .map(slot -> slot.startSeconds() - zero)
                  .toList(),
              timetable.startOf(
                      slot -> slot.job().station() == station && slot.job().chore() == Chore.LIFT)
                  - zero));
    }
    return hands;
  }

  private int byClock(Staged staged, Timetable timetable, CommandLine own)
      throws Failure, InterruptedException {
    CountDownLatch stopped = new CountDownLatch(1);
    for (String signal : List.of("INT", "TERM", "HUP")) {
      Signals.register(signal, stopped::countDown);
    }
    StageClock clock = new StageClock(System::nanoTime, speed);
    StageDesk desk = new StageDesk(staged, clock);
    try (JournalFile journal = OpenJournal.in(run.data(), own.getErr())) {
      Optional<LocalPage> page =
          LocalPage.open(run.page(), Desks.with(journal, desk), own.getErr());
      try {
        page.ifPresent(
            shown -> own.getErr().println("stage: " + shown.address().resolve("/stage")));
        play(staged, timetable, clock, own.getErr(), stopped);
      } finally {
        page.ifPresent(LocalPage::close);
      }
    }
    return CommandLine.ExitCode.OK;
  }

  /** Counts down, then says each job as it comes due, until all are done or the brewer ends it. */
  private void play(
      Staged staged, Timetable timetable, StageClock clock, PrintWriter err, CountDownLatch stopped)
      throws InterruptedException {
    for (int left = countdown; left > 0; left--) {
      err.println("the clock starts in " + left);
      err.flush();
      if (stopped.await((long) (1_000 / speed), TimeUnit.MILLISECONDS)) {
        return;
      }
    }
    clock.start();
    Totals totals = Totals.of(timetable);
    List<Timetable.Slot> slots = timetable.slots();
    int told = 0;
    while (told < slots.size() || clock.seconds().orElse(0) < timetable.endSeconds()) {
      double now = clock.seconds().orElse(0);
      while (told < slots.size() && slots.get(told).startSeconds() <= now) {
        Timetable.Slot slot = slots.get(told);
        told++;
        String next =
            told < slots.size()
                ? "   next " + due(slots.get(told)) + " " + words(staged, slots.get(told), totals)
                : "";
        err.println(due(slot) + "  " + words(staged, slot, totals) + next);
        err.flush();
      }
      if (stopped.await(LOOK_MILLIS, TimeUnit.MILLISECONDS)) {
        return;
      }
    }
    err.println(
        Clock.words(timetable.endSeconds())
            + "  done; the limit is "
            + Clock.words(staged.file().routine().limitSeconds()));
    err.flush();
    clock.stop();
  }

  private static String due(Timetable.Slot slot) {
    return Clock.words(slot.startSeconds());
  }

  private static String words(Staged staged, Timetable.Slot slot, Totals totals) {
    Job job = slot.job();
    String who = job.station() < 0 ? "" : StageText.nameOf(staged, job.station()) + ": ";
    if (job.chore() == Chore.SPEAK) {
      return "say \"" + job.words() + "\"";
    }
    return who
        + job.words()
        + (job.chore() == Chore.POUR
            ? String.format(Locale.ROOT, " to %.0f g", totals.after(job))
            : "");
  }

  private static ParameterException misuse(String message, CommandLine own) {
    return new ParameterException(own, message);
  }
}
