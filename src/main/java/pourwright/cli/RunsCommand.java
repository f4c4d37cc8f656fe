package pourwright.cli;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;
import pourwright.detect.Analysis;
import pourwright.journal.JournalFile;
import pourwright.journal.Judgement;
import pourwright.journal.RunEntry;
import pourwright.journal.RunFilter;
import pourwright.journal.StrengthReading;
import pourwright.journal.TasteItem;
import pourwright.journal.Tasting;

/** What can be done with kept runs. */
@Command(
    name = "runs",
    versionProvider = Main.Version.class,
    mixinStandardHelpOptions = true,
    usageHelpAutoWidth = true,
    header = "Look at kept runs, add to them, and move them.",
    subcommands = {
      RunsListCommand.class,
      RunsShowCommand.class,
      RunsCommand.Strength.class,
      RunsCommand.Taste.class,
      RunsCommand.Note.class,
      RunsCommand.Discount.class,
      RunsCommand.Delete.class,
      RunsCommand.Restore.class,
      RunsExportCommand.class,
      RunsImportCommand.class,
      RunsCommand.Backup.class,
      RunsCommand.Reanalyse.class,
      RunsCommand.Check.class
    },
    synopsisSubcommandLabel = "COMMAND")
final class RunsCommand implements Runnable {
  @Spec private @Nullable CommandSpec spec;

  @Override
  public void run() {
    CommandSpec own = spec;
    if (own != null) {
      throw new ParameterException(
          own.commandLine(),
          "say what to do: runs list, runs show RUN, runs export --all --to ...");
    }
  }

  /** Adds strength readings. */
  @Command(
      name = "strength",
      versionProvider = Main.Version.class,
      mixinStandardHelpOptions = true,
      usageHelpAutoWidth = true,
      header = "Add readings of the strength of the cup.")
  static final class Strength extends JournalCommand {
    @Parameters(index = "0", paramLabel = "RUN", description = "Number of the run.")
    private long run;

    @Parameters(
        index = "1..*",
        arity = "1..*",
        paramLabel = "PERCENT",
        description = "Dissolved solids, % by mass of the beverage; several repeats in one go.")
    private List<Double> percents = new ArrayList<>();

    @Option(
        names = "--uncertainty",
        paramLabel = "POINTS",
        description = "Standard uncertainty of the instrument, in percentage points.")
    private @Nullable Double uncertainty;

    @Option(names = "--instrument", paramLabel = "NAME", description = "What it was read with.")
    private String instrument = "";

    @Override
    void act(JournalFile open) throws IOException {
      OptionalDouble sure =
          uncertainty == null ? OptionalDouble.empty() : OptionalDouble.of(uncertainty);
      List<StrengthReading> readings = new ArrayList<>();
      for (double percent : percents) {
        try {
          readings.add(new StrengthReading(0, Instant.now(), percent, sure, instrument));
        } catch (IllegalArgumentException wrong) {
          throw misuse(String.valueOf(wrong.getMessage()));
        }
      }
      for (StrengthReading reading : readings) {
        open.addStrength(run, reading);
      }
    }
  }

  /** Adds a tasting. */
  @Command(
      name = "taste",
      versionProvider = Main.Version.class,
      mixinStandardHelpOptions = true,
      usageHelpAutoWidth = true,
      header = "Add a tasting, such as: runs taste 12 acidity=7.5 body=6")
  static final class Taste extends JournalCommand {
    @Parameters(index = "0", paramLabel = "RUN", description = "Number of the run.")
    private long run;

    @Parameters(
        index = "1..*",
        arity = "1..*",
        paramLabel = "ITEM=POINTS",
        description =
            "0 to 10 for aroma, flavour, aftertaste, acidity, body, balance, overall, sweetness.")
    private Map<String, Double> points = Map.of();

    @Option(names = "--taster", paramLabel = "NAME", description = "Who tasted.")
    private String taster = "";

    @Option(names = "--note", paramLabel = "TEXT", description = "In your own words.")
    private String note = "";

    @Override
    void act(JournalFile open) throws IOException {
      Map<TasteItem, Double> scores = new EnumMap<>(TasteItem.class);
      points.forEach(
          (word, score) ->
              scores.put(
                  TasteItem.findByWord(word.toLowerCase(Locale.ROOT))
                      .orElseThrow(() -> misuse("there is no item called '" + word + "'")),
                  score));
      Tasting tasting;
      try {
        tasting = new Tasting(0, Instant.now(), taster, scores, note);
      } catch (IllegalArgumentException wrong) {
        throw misuse(String.valueOf(wrong.getMessage()));
      }
      open.addTasting(run, tasting);
    }
  }

  /** Replaces the note. */
  @Command(
      name = "note",
      versionProvider = Main.Version.class,
      mixinStandardHelpOptions = true,
      usageHelpAutoWidth = true,
      header = "Write a note on a run; replaces the one before.")
  static final class Note extends JournalCommand {
    @Parameters(index = "0", paramLabel = "RUN", description = "Number of the run.")
    private long run;

    @Parameters(index = "1..*", arity = "1..*", paramLabel = "TEXT", description = "The note.")
    private List<String> words = new ArrayList<>();

    @Override
    void act(JournalFile open) throws IOException {
      open.note(run, String.join(" ", words));
    }
  }

  /** Says that a run does not count. */
  @Command(
      name = "void",
      versionProvider = Main.Version.class,
      mixinStandardHelpOptions = true,
      usageHelpAutoWidth = true,
      header = "Say that a run does not count; it stays in the journal.")
  static final class Discount extends JournalCommand {
    @Parameters(arity = "1..*", paramLabel = "RUN", description = "Numbers of runs.")
    private List<Long> runs = new ArrayList<>();

    @Option(names = "--undo", description = "They count after all.")
    private boolean isUndone;

    @Override
    void act(JournalFile open) throws IOException {
      for (long run : runs) {
        open.setVoid(run, !isUndone);
      }
    }
  }

  /** Puts runs out of sight. */
  @Command(
      name = "delete",
      versionProvider = Main.Version.class,
      mixinStandardHelpOptions = true,
      usageHelpAutoWidth = true,
      header = "Put runs out of sight; runs restore brings them back.")
  static final class Delete extends JournalCommand {
    @Parameters(arity = "1..*", paramLabel = "RUN", description = "Numbers of runs.")
    private List<Long> runs = new ArrayList<>();

    @Override
    void act(JournalFile open) throws IOException {
      for (long run : runs) {
        open.delete(run);
        err()
            .println("run " + run + " is deleted; `pourwright runs restore " + run + "` undoes it");
      }
    }
  }

  /** Brings deleted runs back. */
  @Command(
      name = "restore",
      versionProvider = Main.Version.class,
      mixinStandardHelpOptions = true,
      usageHelpAutoWidth = true,
      header = "Bring deleted runs back (runs list --deleted shows them).")
  static final class Restore extends JournalCommand {
    @Parameters(arity = "1..*", paramLabel = "RUN", description = "Numbers of runs.")
    private List<Long> runs = new ArrayList<>();

    @Override
    void act(JournalFile open) throws IOException {
      for (long run : runs) {
        open.restore(run);
      }
    }
  }

  /** Copies the journal. */
  @Command(
      name = "backup",
      versionProvider = Main.Version.class,
      mixinStandardHelpOptions = true,
      usageHelpAutoWidth = true,
      header = "Copy the whole journal into one file, also while a run is being recorded.",
      footer = {
        "",
        "The copy is a journal itself: put it into a data folder as journal.sqlite, or open it "
            + "with any program for SQLite."
      })
  static final class Backup extends JournalCommand {
    @Parameters(paramLabel = "FILE", description = "Where to; must not exist yet.")
    private Path file = Path.of("");

    @Override
    void act(JournalFile open) throws IOException {
      open.backUp(file);
      err().println("the journal is copied to " + file);
    }
  }

  /** Judges old runs anew. */
  @Command(
      name = "reanalyse",
      versionProvider = Main.Version.class,
      mixinStandardHelpOptions = true,
      usageHelpAutoWidth = true,
      header = "Look through kept runs anew with this program's detector; old results stay.")
  static final class Reanalyse extends JournalCommand {
    @Parameters(
        arity = "0..*",
        paramLabel = "RUN",
        description = "Numbers of runs. Without any, those that an older detector looked through.")
    private List<Long> runs = new ArrayList<>();

    @Override
    void act(JournalFile open) throws IOException {
      List<Long> wanted = runs.isEmpty() ? outdated(open) : runs;
      int changed = 0;
      for (long run : wanted) {
        Optional<Judgement> before = last(open.listJudgements(run));
        Optional<Judgement> after = open.judgeAnew(run, Lanes::analyse);
        if (after.isEmpty()) {
          err().println("note: run " + run + " holds no weights");
        } else if (before.isEmpty()
            || !before.get().findings().equals(after.get().findings())
            || !before.get().comparison().equals(after.get().comparison())) {
          changed++;
          out().println("run " + run + ": the result is another now");
        }
      }
      out()
          .println(
              wanted.size()
                  + (wanted.size() == 1 ? " run" : " runs")
                  + " looked through with detector "
                  + Analysis.VERSION
                  + ", "
                  + changed
                  + " with another result");
    }

    private static List<Long> outdated(JournalFile open) throws IOException {
      List<Long> outdated = new ArrayList<>();
      for (RunEntry entry : open.listRuns(RunFilter.all().finished())) {
        Optional<Judgement> last = last(open.listJudgements(entry.id()));
        if (last.isEmpty() || last.get().detector() < Analysis.VERSION) {
          outdated.add(0, entry.id());
        }
      }
      return outdated;
    }

    private static Optional<Judgement> last(List<Judgement> judgements) {
      return judgements.isEmpty()
          ? Optional.empty()
          : Optional.of(judgements.get(judgements.size() - 1));
    }
  }

  /** Looks through the file. */
  @Command(
      name = "check",
      versionProvider = Main.Version.class,
      mixinStandardHelpOptions = true,
      usageHelpAutoWidth = true,
      header = "Look through the whole journal for damage.")
  static final class Check extends JournalCommand {
    @Override
    void act(JournalFile open) throws IOException, Failure {
      List<String> wrong = open.check();
      if (!wrong.isEmpty()) {
        wrong.forEach(line -> err().println("note: " + line));
        throw new Failure(
            open.path()
                + " is damaged; give it another name, begin a new journal, and take over what can"
                + " still be read: pourwright runs import FILE");
      }
      out().println("sound: " + open.path());
    }
  }
}
