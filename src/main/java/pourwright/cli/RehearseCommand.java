package pourwright.cli;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;
import pourwright.coach.Feedback;
import pourwright.device.ScaleAddress;
import pourwright.rig.Rig;

/** A rehearsal with a scale. */
@Command(
    name = "rehearse",
    versionProvider = Main.Version.class,
    mixinStandardHelpOptions = true,
    usageHelpAutoWidth = true,
    header = "Rehearse a plan with your scale: guided live, judged and kept.",
    description = {
      "",
      "Put everything on the scale and tare; the run arms itself, starts with the first water and "
          + "ends with the lift of the dripper. Ctrl-C ends it sooner and keeps it.",
      "",
      "Several brewers: give a --scale for each (a split rig takes two: first the one under "
          + "everything, then the one under the server), and one plan for all or one for each.",
      ""
    },
    sortOptions = false)
final class RehearseCommand implements Callable<Integer> {

  @Parameters(
      paramLabel = "PLAN",
      arity = "0..*",
      description = "The plan (.yaml); without one, pours are only found and kept.")
  private List<Path> plans = new ArrayList<>();

  @Option(
      names = "--scale",
      paramLabel = "SCALE",
      required = true,
      description =
          "Where the scale is: serial:PORT?profile=NAME, ble:ADDRESS?profile=NAME, replay:FILE or "
              + "sim:NAME. Once per scale.")
  private List<String> scales = new ArrayList<>();

  @Option(
      names = "--rig",
      paramLabel = "RIG",
      description = "whole, server or split. Else as the plan says, else whole.")
  private @Nullable String rig;

  @Option(
      names = "--feedback",
      paramLabel = "KIND",
      defaultValue = "full",
      description =
          "How much you are told: full, bandwidth (only what leaves the tolerance), faded (less "
              + "from run to run; your earlier faded runs are counted) or blind (nothing until you have guessed). Default: full.")
  private String feedback = "full";

  @Option(
      names = "--brewer",
      paramLabel = "NAME",
      description = "Name of a brewer, once per brewer.")
  private List<String> brewers = new ArrayList<>();

  @Option(
      names = "--lag-s",
      paramLabel = "S",
      description =
          "How far the displays run behind the weight (s). Else as check-scale found it, else taken "
              + "from the run itself.")
  private @Nullable Double lagSeconds;

  @Mixin private ScaleRehearsalOptions options = new ScaleRehearsalOptions();

  @Spec private @Nullable CommandSpec spec;

  @Override
  public Integer call() throws Failure, InterruptedException {
    CommandLine own = Objects.requireNonNull(spec).commandLine();
    Feedback told = FeedbackOption.read(feedback, own);
    Optional<Rig> named = Optional.empty();
    if (rig != null) {
      named = Rig.findByWord(rig.toLowerCase(Locale.ROOT));
      if (named.isEmpty()) {
        throw misuse("--rig must be whole, server or split, not '" + rig + "'");
      }
    }
    List<PlanFile> files = new ArrayList<>();
    for (Path plan : plans) {
      files.add(PlanFile.read(plan));
    }
    List<ScaleAddress> addresses = new ArrayList<>();
    for (String scale : scales) {
      try {
        addresses.add(ScaleAddress.parse(scale));
      } catch (IllegalArgumentException wrong) {
        throw misuse(String.valueOf(wrong.getMessage()));
      }
    }
    Ensemble ensemble;
    try {
      ensemble = Ensemble.of(files, named, scales, addresses, brewers);
    } catch (IllegalArgumentException wrong) {
      throw misuse(String.valueOf(wrong.getMessage()));
    }
    OptionalDouble lag = OptionalDouble.empty();
    if (lagSeconds != null) {
      if (!(lagSeconds >= 0 && lagSeconds <= KnownScales.MOST_LAG_SECONDS)) {
        throw misuse("--lag-s must be 0 to 10 seconds, not " + lagSeconds);
      }
      lag = OptionalDouble.of(lagSeconds);
    }
    return new LiveRun(own.getOut(), own.getErr(), options, lag).run(ensemble, told);
  }

  private ParameterException misuse(String message) {
    return new ParameterException(Objects.requireNonNull(spec).commandLine(), message);
  }
}
