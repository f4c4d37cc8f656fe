package pourwright.cli;

import java.io.PrintWriter;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;
import pourwright.coach.Feedback;
import pourwright.device.ScaleAddress;
import pourwright.rig.Rig;
import pourwright.stage.Outcome;
import pourwright.stage.Timetable;

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
    new StageByClock(staged, planned.timetable(), speed, own.getErr()).run(run, countdown);
    return CommandLine.ExitCode.OK;
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
            .run(ensemble.withHands(SimulatedHands.of(timetable, names.size())), Feedback.FULL);
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

  private static ParameterException misuse(String message, CommandLine own) {
    return new ParameterException(own, message);
  }
}
