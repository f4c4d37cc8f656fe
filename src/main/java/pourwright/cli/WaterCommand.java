package pourwright.cli;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.PrintWriter;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;
import pourwright.builder.BlendJson;
import pourwright.mineral.Blend;
import pourwright.mineral.Minerals;
import pourwright.units.Mass;

/** Water to brew with. */
@Command(
    name = "water",
    versionProvider = Main.Version.class,
    mixinStandardHelpOptions = true,
    usageHelpAutoWidth = true,
    header = "Mix brewing water: what a blend carries, and what to weigh for a target.",
    subcommands = {WaterCommand.Mix.class, WaterCommand.Target.class},
    synopsisSubcommandLabel = "COMMAND")
final class WaterCommand implements Runnable {
  private static final double USUAL_BATCH_GRAMS = 1_500;

  /** Anything larger is a slip of the finger (mg/L, g); own choice. */
  private static final double MOST = 100_000;

  /** A published recipe: both make about 1000 mg/L as CaCO₃. */
  private static final List<String> USUAL_WATERS =
      List.of("distilled", "hardness concentrate=epsom:2.45", "buffer concentrate=soda:1.68");

  @Spec private @Nullable CommandSpec spec;

  @Override
  public void run() {
    throw new ParameterException(
        Objects.requireNonNull(spec).commandLine(), "say what to do: water mix, water target");
  }

  /** What a blend carries. */
  @Command(
      name = "mix",
      versionProvider = Main.Version.class,
      mixinStandardHelpOptions = true,
      usageHelpAutoWidth = true,
      sortOptions = false,
      header = "Say what waters and concentrates weighed together carry.",
      footer = {
        "",
        "  pourwright water mix tap=ca:50,mg:10,hco3:120@400 distilled@1000 buffer=soda:1.68@30",
        ""
      })
  static final class Mix implements Callable<Integer> {
    @Parameters(
        arity = "1..*",
        paramLabel = "WATER@G",
        description = "Waters with what is weighed of each: NAME=140/90@500. See the example.")
    private List<String> told = new ArrayList<>();

    @Option(names = "--format", paramLabel = "FORMAT", description = "text or json.")
    private Format format = Format.TEXT;

    @Spec private @Nullable CommandSpec spec;

    @Override
    public Integer call() throws IOException {
      CommandLine command = Objects.requireNonNull(spec).commandLine();
      Map<Blend.Water, Mass> parts = new LinkedHashMap<>();
      for (String word : told) {
        TypedWater water = read(command, word);
        Mass weighed =
            water
                .weighed()
                .orElseThrow(
                    () ->
                        new ParameterException(
                            command, word + ": say how much of it, as " + word + "@500"));
        parts.merge(water.water(), weighed, Mass::plus);
      }
      Blend blend = new Blend(parts);
      if (blend.total().equals(Mass.ZERO)) {
        throw new ParameterException(command, "there is nothing in this blend");
      }
      show(command, format, blend);
      return CommandLine.ExitCode.OK;
    }
  }

  /** What to weigh. */
  @Command(
      name = "target",
      versionProvider = Main.Version.class,
      mixinStandardHelpOptions = true,
      usageHelpAutoWidth = true,
      sortOptions = false,
      header = "Say what to weigh of each water for a hardness and an alkalinity.",
      description = {
        "",
        "Uses as much of the water named first as can be. Without waters: distilled water and two "
            + "concentrates, 2.45 g of Epsom salt and 1.68 g of baking soda in a litre each.",
        ""
      },
      footer = {
        "",
        "  pourwright water target --hardness 70 --alkalinity 40 tap=140/90 distilled \\",
        "      hard=epsom:2.45 buffer=soda:1.68",
        "",
        "Salts must be of food grade.",
        ""
      })
  static final class Target implements Callable<Integer> {
    @Option(
        names = "--hardness",
        required = true,
        paramLabel = "MG/L",
        description = "Total hardness wanted (mg/L as CaCO3).")
    private double hardness;

    @Option(
        names = "--alkalinity",
        required = true,
        paramLabel = "MG/L",
        description = "Alkalinity wanted (mg/L as CaCO3).")
    private double alkalinity;

    @Option(names = "--batch", paramLabel = "G", description = "How much to make (g). Else 1500.")
    private double batchGrams = USUAL_BATCH_GRAMS;

    @Parameters(
        arity = "0..*",
        paramLabel = "WATER",
        description = "Waters at hand, the preferred one first. See the example.")
    private List<String> told = new ArrayList<>();

    @Option(names = "--format", paramLabel = "FORMAT", description = "text or json.")
    private Format format = Format.TEXT;

    @Spec private @Nullable CommandSpec spec;

    @Override
    public Integer call() throws IOException, Failure {
      CommandLine command = Objects.requireNonNull(spec).commandLine();
      within(command, "--hardness", hardness, 0);
      within(command, "--alkalinity", alkalinity, 0);
      within(command, "--batch", batchGrams, 1);
      List<Blend.Water> waters =
          (told.isEmpty() ? USUAL_WATERS : told)
              .stream().map(word -> read(command, word).water()).toList();
      Minerals target = new Minerals(hardness, alkalinity);
      Blend blend =
          Blend.forTarget(waters, target, Mass.ofGrams(batchGrams))
              .orElseThrow(() -> new Failure(Blend.whyNone(waters, target)));
      show(command, format, blend);
      return CommandLine.ExitCode.OK;
    }

    private static void within(CommandLine command, String name, double value, double least) {
      if (!(value >= least && value <= MOST)) {
        throw new ParameterException(
            command,
            String.format(
                Locale.ROOT,
                "%s must lie between %.0f and %.0f, not %s",
                name,
                least,
                MOST,
                value));
      }
    }
  }

  private static TypedWater read(CommandLine command, String word) {
    try {
      return TypedWater.read(word);
    } catch (IllegalArgumentException wrong) {
      throw new ParameterException(command, word + ": " + wrong.getMessage(), wrong);
    }
  }

  private static void show(CommandLine command, Format format, Blend blend) throws IOException {
    PrintWriter out = command.getOut();
    Minerals minerals = blend.minerals();
    if (format == Format.JSON) {
      try (JsonGenerator json = Json.write(out)) {
        json.writeStartObject();
        json.writeNumberField("format", 1);
        BlendJson.blend(json, blend);
        json.writeEndObject();
      }
      out.println();
    } else {
      for (Map.Entry<Blend.Water, Mass> part : blend.parts().entrySet()) {
        out.println(
            String.format(
                Locale.ROOT, "%9.1f g  %s", part.getValue().grams(), part.getKey().name()));
      }
      out.println(String.format(Locale.ROOT, "%9.1f g  in all", blend.total().grams()));
      out.println();
      out.println(
          String.format(
              Locale.ROOT,
              "hardness    %5.1f mg/L as CaCO3 (%.1f °dH)",
              minerals.hardnessMgPerLitre(),
              minerals.hardnessGermanDegrees()));
      out.println(
          String.format(
              Locale.ROOT, "alkalinity  %5.1f mg/L as CaCO3", minerals.alkalinityMgPerLitre()));
    }
    out.flush();
  }
}
