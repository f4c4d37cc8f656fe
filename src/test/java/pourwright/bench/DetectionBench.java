package pourwright.bench;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/**
 * Measures the pour detector against made recordings whose truth is known.
 *
 * <pre>
 * mvn -q test-compile exec:java -Dexec.classpathScope=test \
 *     -Dexec.mainClass=pourwright.bench.DetectionBench -Dexec.args="--count 200"
 * </pre>
 */
@Command(
    name = "detection-bench",
    description = "Finds pours in made recordings and compares them with the truth.",
    mixinStandardHelpOptions = true)
public final class DetectionBench implements Callable<Integer> {
  @Option(names = "--families", split = ",", description = "Only these families.")
  private List<String> families = new ArrayList<>();

  @Option(names = "--count", description = "Recordings per family (${DEFAULT-VALUE}).")
  private int count = 200;

  @Option(names = "--seed", description = "First seed (${DEFAULT-VALUE}).")
  private long seed = 1;

  @Option(names = "--finder", description = "detector or hobby (${DEFAULT-VALUE}).")
  private String finder = "detector";

  @Option(names = "--worst", description = "Worst recordings named per family (${DEFAULT-VALUE}).")
  private int worst = 3;

  @Option(names = "--csv", description = "Also writes the figures to this file.")
  private @Nullable Path csv;

  @Option(names = "--pours", description = "Also writes the errors of every pour to this file.")
  private @Nullable Path pours;

  @Option(names = "--plots", description = "Draws the worst recording of each family here.")
  private @Nullable Path plots;

  @Option(
      names = "--dump",
      description = "Writes the recording with this seed of each family as trace and truth here.")
  private @Nullable Path dump;

  @Spec private CommandLine.Model.@Nullable CommandSpec spec;

  public static void main(String[] args) {
    int status = new CommandLine(new DetectionBench()).execute(args);
    if (status != 0) {
      System.exit(status);
    }
  }

  @Override
  public Integer call() throws IOException {
    PrintWriter out = new CommandLine(this).getOut();
    List<Family> chosen = chosen();
    if (dump != null) {
      for (Family family : chosen) {
        Dump.write(Takes.of(family, seed), dump);
      }
      return 0;
    }
    Finder measured = finder();
    long began = System.nanoTime();
    List<Tally> tallies = new ArrayList<>();
    for (Family family : chosen) {
      tallies.add(measure(family, measured, count, seed));
    }
    out.print(Report.table(tallies));
    out.println();
    out.print(Report.worst(tallies, worst));
    out.printf(
        Locale.ROOT,
        "%d families × %d recordings, seeds from %d, finder %s, %.0f s%n",
        chosen.size(),
        count,
        seed,
        finder,
        (System.nanoTime() - began) / 1e9);
    out.flush();
    if (csv != null) {
      Files.writeString(csv, Report.csv(tallies));
    }
    if (pours != null) {
      Files.writeString(pours, Report.sightings(tallies));
    }
    if (plots != null) {
      Files.createDirectories(plots);
      for (Tally tally : tallies) {
        for (Tally.Case bad : tally.listWorst(1)) {
          Take take = Takes.of(tally.family(), bad.seed());
          Picture.draw(
              take,
              measured.find(take),
              plots.resolve(tally.family().word() + "-" + bad.seed() + ".png"));
        }
      }
    }
    return 0;
  }

  /** Scores {@code count} recordings of one family. */
  static Tally measure(Family family, Finder finder, int count, long firstSeed) {
    Tally tally = new Tally(family);
    Scorer scorer = new Scorer(tally);
    for (long each = firstSeed; each < firstSeed + count; each++) {
      Take take = Takes.of(family, each);
      scorer.score(take, finder.find(take));
    }
    return tally;
  }

  private List<Family> chosen() {
    List<Family> chosen = new ArrayList<>();
    for (String word : families) {
      Optional<Family> family = Family.findByWord(word);
      chosen.add(family.orElseThrow(() -> wrong("no such family: " + word)));
    }
    return chosen.isEmpty() ? List.of(Family.values()) : chosen;
  }

  private Finder finder() {
    return switch (finder) {
      case "detector" -> new Detection();
      case "hobby" -> new Hobby();
      default -> throw wrong("no such finder: " + finder);
    };
  }

  private ParameterException wrong(String message) {
    return new ParameterException(
        spec == null ? new CommandLine(this) : spec.commandLine(), message);
  }
}
