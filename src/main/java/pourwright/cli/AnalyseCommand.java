package pourwright.cli;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;
import pourwright.bed.KnownDrainage;
import pourwright.compare.Comparator;
import pourwright.compare.Comparison;
import pourwright.compare.PouredCurve;
import pourwright.detect.Analysis;
import pourwright.detect.Curve;
import pourwright.detect.DetectorSettings;
import pourwright.detect.Findings;
import pourwright.device.catalogue.Profiles;
import pourwright.plan.Plan;
import pourwright.record.ResultJson;
import pourwright.rig.Rig;
import pourwright.units.Mass;

/** Finds the pours of a recording and, with a plan, judges them. */
@Command(
    name = "analyse",
    versionProvider = Main.Version.class,
    mixinStandardHelpOptions = true,
    usageHelpAutoWidth = true,
    header = "Find the pours in a recording and hold them against a plan.",
    description = {
      "",
      "Reads a trace (CSV with the columns time_s and mass_g) or a raw stream, finds every pour, "
          + "drawdown and disturbance and the lift of the dripper, and with --plan judges each "
          + "pour.",
      ""
    },
    sortOptions = false)
final class AnalyseCommand implements Callable<Integer> {
  /** Heavier things do not stand on a kitchen scale (g); own choice. */
  private static final double MOST_GRAMS = 10_000;

  @Parameters(
      paramLabel = "TRACE",
      description = "A trace (.csv) or raw stream (.stream); - reads standard input.")
  private String trace = "";

  @Option(names = "--plan", paramLabel = "PLAN", description = "The plan to judge by (.yaml).")
  private @Nullable Path plan;

  @Option(
      names = "--rig",
      paramLabel = "RIG",
      description =
          "What stands on the scale: whole (dripper on server), server (only the server), or "
              + "split (a scale for each). Else taken from the plan, else from the recording.")
  private @Nullable String rig;

  @Option(names = "--dose-g", paramLabel = "G", description = "Dry coffee (g).")
  private @Nullable Double doseGrams;

  @Option(
      names = "--dripper-g",
      paramLabel = "G",
      description = "Empty dripper with its filter (g), to know the beverage on the whole rig.")
  private @Nullable Double dripperGrams;

  @Option(names = "--server-g", paramLabel = "G", description = "Empty server (g).")
  private @Nullable Double serverGrams;

  @Option(
      names = "--lag-s",
      paramLabel = "S",
      description =
          "How far the display runs behind the weight (s). Else taken from the recording.")
  private @Nullable Double lagSeconds;

  @Option(
      names = "--drains-like",
      paramLabel = "TRACE",
      description =
          "A recording with a scale under the server, through the same dripper with the same dose "
              + "and grind; drained moments that were not weighed here are then modelled.")
  private @Nullable String drainsLike;

  @Option(
      names = "--format",
      paramLabel = "FORMAT",
      defaultValue = "text",
      description = "text, or json: one JSON document on standard output.")
  private Format format = Format.TEXT;

  @Spec private @Nullable CommandSpec spec;

  @Override
  public Integer call() throws Failure {
    Optional<Rig> namedRig = Optional.ofNullable(rig).map(this::rigNamed);
    settings(Optional.empty()); // a wrong option is told before any file is opened
    Optional<PlanFile> planFile =
        plan == null ? Optional.empty() : Optional.of(PlanFile.read(plan));
    DetectorSettings settings = settings(planFile.map(PlanFile::plan));

    Recorded recorded = read(trace, namedRig.or(() -> planFile.map(file -> file.plan().rig())));
    List<Curve> curves = recorded.curvesOf(recorded.rig(), trace);
    Findings findings =
        KnownDrainage.complete(
            Analysis.of(recorded.rig(), settings, curves).findings(),
            settings.dose(),
            likewise(settings));
    Optional<Comparison> comparison =
        planFile.map(
            file -> Comparator.compare(file.plan(), findings, PouredCurve.of(findings, curves)));
    if (format == Format.JSON) {
      printJson(findings, comparison, recorded.notes());
    } else {
      printText(findings, comparison, recorded.notes());
    }
    return CommandLine.ExitCode.OK;
  }

  private static Recorded read(String name, Optional<Rig> asked) throws Failure {
    return Recorded.read(
        name,
        asked,
        System.in,
        () -> Profiles.with(RunOptions.dataFolder(Optional.empty()).profiles()));
  }

  /** What was found in the recording that drains alike. */
  private List<Findings> likewise(DetectorSettings settings) throws Failure {
    if (drainsLike == null) {
      return List.of();
    }
    Recorded other = read(drainsLike, Optional.empty());
    if (other.rig() == Rig.WHOLE) {
      throw new Failure(
          drainsLike
              + ": shows no drawdown; name a recording with a scale under the server (rig split"
              + " or server)");
    }
    return List.of(
        Analysis.of(other.rig(), settings, other.curvesOf(other.rig(), drainsLike)).findings());
  }

  private Rig rigNamed(String word) {
    return Rig.findByWord(word.toLowerCase(Locale.ROOT))
        .orElseThrow(() -> misuse("--rig must be whole, server or split, not '" + word + "'"));
  }

  private ParameterException misuse(String message) {
    return new ParameterException(Objects.requireNonNull(spec).commandLine(), message);
  }

  /** What the plan knows, overruled by the command line. */
  private DetectorSettings settings(Optional<Plan> planned) {
    DetectorSettings settings = planned.map(Lanes::settings).orElseGet(DetectorSettings::standard);
    if (doseGrams != null) {
      settings = settings.withDose(grams("--dose-g", doseGrams));
    }
    if (dripperGrams != null) {
      settings = settings.withDripper(grams("--dripper-g", dripperGrams));
    }
    if (serverGrams != null) {
      settings = settings.withServer(grams("--server-g", serverGrams));
    }
    if (lagSeconds != null) {
      if (!(lagSeconds >= 0 && lagSeconds <= KnownScales.MOST_LAG_SECONDS)) {
        throw misuse("--lag-s must be 0 to 10 seconds, not " + lagSeconds);
      }
      settings = settings.withLagSeconds(lagSeconds);
    }
    return settings;
  }

  private Mass grams(String option, double grams) {
    if (!(grams > 0 && grams <= MOST_GRAMS)) {
      throw misuse(option + " must be more than 0 and at most 10000 grams, not " + grams);
    }
    return Mass.ofGrams(grams);
  }

  private void printJson(Findings findings, Optional<Comparison> comparison, List<String> notes)
      throws Failure {
    PrintWriter out = Objects.requireNonNull(spec).commandLine().getOut();
    try (JsonGenerator json = Json.write(out)) {
      json.writeStartObject();
      ResultJson.writeMembers(json, findings, comparison, notes);
      json.writeEndObject();
      json.writeRaw('\n');
    } catch (IOException failed) {
      throw new Failure("the result could not be written: " + failed.getMessage(), failed);
    }
  }

  private void printText(Findings findings, Optional<Comparison> comparison, List<String> notes) {
    CommandLine own = Objects.requireNonNull(spec).commandLine();
    notes.forEach(note -> own.getErr().println("note: " + note));
    own.getErr().flush();
    own.getOut().print(ResultText.of(findings, comparison));
  }
}
