package pourwright.cli;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.OpenOption;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.ArgGroup;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;
import pourwright.builder.PlanJson;
import pourwright.plan.Plan;
import pourwright.plan.PlanProblem;
import pourwright.plan.PlanWriter;
import pourwright.plan.PlannedPour;
import pourwright.plan.Schedule;
import pourwright.plan.Tolerance;
import pourwright.recipe.CupEffects;
import pourwright.recipe.Pace;
import pourwright.recipe.Recipe;
import pourwright.recipe.Scheme;
import pourwright.rig.Rig;
import pourwright.units.Flow;
import pourwright.units.Mass;

/** Writes a plan file from a recipe, or from pours as they are told. */
@Command(
    name = "build",
    versionProvider = Main.Version.class,
    mixinStandardHelpOptions = true,
    usageHelpAutoWidth = true,
    sortOptions = false,
    header = "Write a plan from dose, water and shares, or from your own list of pours.",
    description = {
      "",
      "The opening share is given in two pours, the rest in closing pours. Every pour is rounded to "
          + "what the scale can show, and together they are always the water. What a change does to "
          + "the cup is common practice, no source: taste it.",
      ""
    },
    footer = {
      "",
      "  pourwright plan build heat.yaml --dose 16.5 --ratio 16 --closing 2 --start drained",
      "  pourwright plan build --dose 20 --pour 50@0 --pour 110@drained:45/6.5 --pour 140@+30",
      ""
    })
final class PlanBuildCommand implements Callable<Integer> {
  private static final double USUAL_DOSE_GRAMS = 20;
  private static final double USUAL_RATIO = 15;
  private static final double USUAL_OPENING_PERCENT = 40;
  private static final int USUAL_CLOSING_POURS = 3;
  private static final double USUAL_FLOW_GRAMS_PER_SECOND = 6;
  private static final double USUAL_INTERVAL_SECONDS = 45;
  private static final double USUAL_GAP_SECONDS = 30;

  /** Anything larger is a slip of the finger (g, s); own choice. */
  private static final double MOST = 10_000;

  private enum Begin {
    CLOCK,
    DRAINED,
    GAP;

    @Override
    public String toString() {
      return name().toLowerCase(Locale.ROOT);
    }
  }

  @Parameters(
      arity = "0..1",
      paramLabel = "FILE",
      description = "Where the plan is written. Without it, it goes to standard output.")
  private @Nullable Path file;

  @Option(names = "--title", paramLabel = "TEXT", description = "What you call it.")
  private String title = "Trial";

  @Option(names = "--dose", paramLabel = "G", description = "Dry coffee (g). Else 20.")
  private double doseGrams = USUAL_DOSE_GRAMS;

  @ArgGroup private @Nullable Amount amount;

  private static final class Amount {
    @Option(
        names = "--ratio",
        paramLabel = "N",
        description = "Parts of water to one part of coffee. Else 15.")
    private @Nullable Double ratio;

    @Option(names = "--water", paramLabel = "G", description = "All the water (g).")
    private @Nullable Double waterGrams;
  }

  @Option(
      names = "--opening",
      paramLabel = "PCT",
      description = "Share of the water in the opening (%%). Else 40.")
  private double openingPercent = USUAL_OPENING_PERCENT;

  @Option(
      names = "--first",
      paramLabel = "G",
      description = "The first pour (g). Else five twelfths of the opening.")
  private @Nullable Double firstGrams;

  @ArgGroup private @Nullable Closing closing;

  private static final class Closing {
    @Option(
        names = "--closing",
        paramLabel = "N",
        description = "How many closing pours share the rest equally. Else 3.")
    private @Nullable Integer pours;

    @Option(
        names = "--split",
        paramLabel = "A:B:C",
        description = "Closing pours in these proportions.")
    private @Nullable String parts;
  }

  @Option(names = "--flow", paramLabel = "G/S", description = "Flow of every pour. Else 6.")
  private double flowGramsPerSecond = USUAL_FLOW_GRAMS_PER_SECOND;

  @Option(
      names = "--start",
      paramLabel = "RULE",
      description =
          "What starts the later pours: clock, drained (the bed is dry), or gap (a while after the "
              + "last water).")
  private Begin start = Begin.CLOCK;

  @Option(
      names = "--interval",
      paramLabel = "S",
      description =
          "From start to start by the clock, or thought to pass until drained (s). Else 45. With "
              + "--start gap: from end to start. Else 30.")
  private @Nullable Double intervalSeconds;

  @Option(
      names = "--pour",
      paramLabel = "G@WHEN[/FLOW]",
      description =
          "Instead of shares, each pour as you want it: WHEN is seconds by the clock, +seconds after "
              + "the pour before, or drained:seconds. Repeat it.")
  private List<String> pours = new ArrayList<>();

  @Option(names = "--step", paramLabel = "G", description = "What the scale can show (g). Else 1.")
  private double stepGrams = 1;

  @Option(names = "--temp", paramLabel = "C", description = "Water in the kettle (°C).")
  private @Nullable Double celsius;

  @Option(names = "--strength", paramLabel = "PCT", description = "Strength aimed at (%%).")
  private @Nullable Double strengthPercent;

  @Option(names = "--rig", paramLabel = "RIG", description = "whole, server or split. Else whole.")
  private String rig = Rig.WHOLE.word();

  @Option(
      names = "--against",
      paramLabel = "PLAN",
      description = "Say what is different in the cup from this plan. Else from the usual scheme.")
  private @Nullable Path against;

  @Option(names = "--force", description = "Replace FILE if it is there.")
  private boolean isForced;

  @Option(names = "--format", paramLabel = "FORMAT", description = "text or json.")
  private Format format = Format.TEXT;

  @Spec private @Nullable CommandSpec spec;

  @Override
  public Integer call() throws Failure, IOException {
    CommandSpec own = Objects.requireNonNull(spec);
    Plan plan = pours.isEmpty() ? fromShares() : fromPours();
    String text = PlanWriter.write(plan);
    Path target = file;
    // what has been written must read back as a plan, or it is not written
    PlanFile checked = PlanFile.of(text, target == null ? "plan" : target.toString());
    Path other = against;
    Plan before = other == null ? usual().toPlan() : PlanFile.read(other).plan();
    List<String> cup = CupEffects.of(Scheme.of(before), Scheme.of(plan));
    if (target != null) {
      write(target, text);
    }
    PrintWriter out = own.commandLine().getOut();
    if (format == Format.JSON) {
      json(out, plan, text, cup, checked.warnings());
    } else {
      talk(target == null ? own.commandLine().getErr() : out, plan, cup, other);
      checked.warnings().forEach(note -> own.commandLine().getErr().println("note: " + note));
      if (target == null) {
        out.print(text);
      }
    }
    out.flush();
    own.commandLine().getErr().flush();
    return CommandLine.ExitCode.OK;
  }

  /** Twenty grams, one to fifteen, forty percent in the opening, three closing pours. */
  private static Recipe usual() {
    Mass water = Mass.ofGrams(USUAL_DOSE_GRAMS * USUAL_RATIO);
    return new Recipe(
        "usual",
        Mass.ofGrams(USUAL_DOSE_GRAMS),
        water,
        USUAL_OPENING_PERCENT / 100,
        Recipe.usualFirstPour(water, USUAL_OPENING_PERCENT / 100, Mass.ofGrams(1)),
        Recipe.evenly(USUAL_CLOSING_POURS),
        Flow.ofGramsPerSecond(USUAL_FLOW_GRAMS_PER_SECOND),
        new Pace.ByClock(Duration.ofMillis(Math.round(1_000 * USUAL_INTERVAL_SECONDS))),
        Mass.ofGrams(1),
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        Rig.WHOLE,
        Tolerance.COMMON);
  }

  private Plan fromShares() {
    Mass dose = mass("--dose", doseGrams);
    Mass step = mass("--step", stepGrams);
    double share = within("--opening", openingPercent, 100) / 100;
    Mass water = water(dose, step);
    Double first = firstGrams;
    Recipe recipe =
        new Recipe(
            title,
            dose,
            water,
            share,
            first == null ? Recipe.usualFirstPour(water, share, step) : mass("--first", first),
            closingSplit(),
            Flow.ofGramsPerSecond(within("--flow", flowGramsPerSecond, MOST)),
            pace(),
            step,
            optional("--temp", celsius, 100),
            optional("--strength", strengthPercent, 20),
            rig(),
            Tolerance.COMMON);
    List<String> problems = recipe.problems();
    if (!problems.isEmpty()) {
      throw misuse("this makes no plan: " + String.join("; ", problems));
    }
    return recipe.toPlan();
  }

  private Plan fromPours() {
    List<PlannedPour> planned = new ArrayList<>();
    for (String told : pours) {
      try {
        planned.add(
            TypedPour.read(
                told,
                planned.size() + 1,
                Flow.ofGramsPerSecond(within("--flow", flowGramsPerSecond, MOST))));
      } catch (IllegalArgumentException wrong) {
        throw misuse("--pour " + told + ": " + wrong.getMessage());
      }
    }
    Mass sum = planned.stream().map(PlannedPour::add).reduce(Mass.ZERO, Mass::plus);
    Amount told = amount;
    if (told != null) {
      Mass wanted = water(mass("--dose", doseGrams), mass("--step", stepGrams));
      if (!wanted.equals(sum)) {
        throw misuse(
            "the pours are " + sum + ", the water is " + wanted + "; leave one of them out");
      }
    }
    return new Plan(
        title,
        mass("--dose", doseGrams),
        sum,
        optional("--temp", celsius, 100),
        optional("--strength", strengthPercent, 20),
        rig(),
        Optional.empty(),
        Optional.empty(),
        Tolerance.COMMON,
        planned,
        List.of());
  }

  private Mass water(Mass dose, Mass step) {
    Amount told = amount;
    Double grams = told == null ? null : told.waterGrams;
    if (grams != null) {
      return mass("--water", grams);
    }
    Double ratio = told == null ? null : told.ratio;
    return Recipe.waterFor(
        dose, ratio == null ? USUAL_RATIO : within("--ratio", ratio, MOST / 100), step);
  }

  private List<Double> closingSplit() {
    Closing told = closing;
    String parts = told == null ? null : told.parts;
    if (parts == null) {
      Integer count = told == null ? null : told.pours;
      if (count != null && (count < 0 || count > 100)) {
        throw misuse("--closing: 0 to 20 closing pours can be planned, not " + count);
      }
      // an opening of everything leaves nothing to close with
      int usual = openingPercent == 100 ? 0 : USUAL_CLOSING_POURS;
      return Recipe.evenly(count == null ? usual : count);
    }
    try {
      return Arrays.stream(parts.split(":", -1)).map(Double::valueOf).toList();
    } catch (NumberFormatException wrong) {
      throw misuse("--split: write numbers with colons between them, as 3:2:1, not " + parts);
    }
  }

  private Pace pace() {
    Double told = intervalSeconds;
    double usual = start == Begin.GAP ? USUAL_GAP_SECONDS : USUAL_INTERVAL_SECONDS;
    Duration span =
        Duration.ofMillis(
            Math.round(1_000 * (told == null ? usual : within("--interval", told, MOST))));
    return switch (start) {
      case CLOCK -> new Pace.ByClock(span);
      case DRAINED -> new Pace.WhenDrained(span);
      case GAP -> new Pace.AfterEnd(span);
    };
  }

  private Rig rig() {
    return Rig.findByWord(rig)
        .orElseThrow(() -> misuse("--rig must be whole, server or split, not " + rig));
  }

  private OptionalDouble optional(String name, @Nullable Double value, double most) {
    return value == null ? OptionalDouble.empty() : OptionalDouble.of(within(name, value, most));
  }

  private Mass mass(String name, double grams) {
    return Mass.ofGrams(within(name, grams, MOST));
  }

  private double within(String name, double value, double most) {
    if (!(value > 0 && value <= most)) {
      throw misuse(
          String.format(
              Locale.ROOT, "%s must be more than 0 and at most %.0f, not %s", name, most, value));
    }
    return value;
  }

  private ParameterException misuse(String why) {
    return new ParameterException(Objects.requireNonNull(spec).commandLine(), why);
  }

  private void write(Path target, String text) throws Failure {
    OpenOption[] options =
        isForced
            ? new OpenOption[] {
              StandardOpenOption.CREATE,
              StandardOpenOption.TRUNCATE_EXISTING,
              StandardOpenOption.WRITE
            }
            : new OpenOption[] {StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE};
    try {
      Files.writeString(target, text, StandardCharsets.UTF_8, options);
    } catch (FileAlreadyExistsException there) {
      throw new Failure(
          target + ": is there already and was left as it is; name another file, or add --force",
          there);
    } catch (IOException failed) {
      throw Failure.of(target.toString(), failed);
    }
  }

  private void talk(PrintWriter to, Plan plan, List<String> cup, @Nullable Path other) {
    to.println(PlanText.of(Schedule.of(plan)));
    to.println();
    String than =
        other == null ? "the usual scheme (20 g, 1:15, 50 70 60 60 60)" : other.toString();
    if (cup.isEmpty()) {
      to.println("In the cup nothing is said to differ from " + than + ".");
    } else {
      to.println("Against " + than + " (common practice, no source):");
      cup.forEach(sentence -> to.println("  " + sentence));
    }
    if (file != null) {
      to.println();
      to.println("written: " + file);
    }
  }

  private void json(
      PrintWriter out, Plan plan, String text, List<String> cup, List<PlanProblem> notes)
      throws IOException {
    try (JsonGenerator json = Json.write(out)) {
      json.writeStartObject();
      json.writeNumberField("format", 1);
      if (file != null) {
        json.writeStringField("file", file.toString());
      }
      PlanJson.plan(json, Schedule.of(plan));
      json.writeStringField("text", text);
      json.writeObjectFieldStart("cup");
      json.writeStringField("basis", "common practice, no source");
      json.writeArrayFieldStart("says");
      for (String sentence : cup) {
        json.writeString(sentence);
      }
      json.writeEndArray();
      json.writeEndObject();
      json.writeArrayFieldStart("warnings");
      for (PlanProblem note : notes) {
        json.writeString(note.wrong() + "; " + note.right());
      }
      json.writeEndArray();
      json.writeEndObject();
    }
    out.println();
  }
}
