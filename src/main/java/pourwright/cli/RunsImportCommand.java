package pourwright.cli;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import pourwright.exchange.ForeignCsv;
import pourwright.exchange.ForeignRun;
import pourwright.exchange.RunArchive;
import pourwright.journal.JournalFile;
import pourwright.recording.Recordings;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.session.RunStart;
import pourwright.units.MassUnit;

/** Puts runs into the journal. */
@Command(
    name = "import",
    versionProvider = Main.Version.class,
    mixinStandardHelpOptions = true,
    usageHelpAutoWidth = true,
    header =
        "Put runs into the journal: an export, another journal, or any CSV with a time and a mass"
            + " column.",
    footer = {
      "",
      "Runs that are in the journal already stay as they are, unless FILE holds more of them.",
      "",
      "Any CSV: pourwright runs import other.csv --time-column t --mass-column grams",
    },
    sortOptions = false)
final class RunsImportCommand extends JournalCommand {
  /** How every SQLite file begins (SQLite, Database File Format, 1.3). */
  private static final String JOURNAL_START = "SQLite format 3\0";

  @Parameters(
      paramLabel = "FILE",
      description =
          "A zip or folder from runs export, a journal (a backup, or one that was set aside), or a"
              + " file that ends in .csv.")
  private Path file = Path.of("");

  @Option(
      names = "--time-column",
      paramLabel = "COLUMN",
      defaultValue = "time_s",
      description = "Title or number (from 1) of the column of times. Default: time_s.")
  private String time = "time_s";

  @Option(
      names = "--mass-column",
      paramLabel = "COLUMN",
      defaultValue = "mass_g",
      description = "Title or number (from 1) of the column of masses. Default: mass_g.")
  private String mass = "mass_g";

  @Option(
      names = "--time-unit",
      paramLabel = "UNIT",
      defaultValue = "s",
      description = "s, ms or us. Default: s.")
  private String timeUnit = "s";

  @Option(
      names = "--mass-unit",
      paramLabel = "UNIT",
      defaultValue = "g",
      description = "mg, g, kg, gr, oz or lb. Default: g.")
  private String massUnit = "g";

  @Option(names = "--plan", paramLabel = "PLAN", description = "The plan to judge by (.yaml).")
  private @Nullable Path plan;

  @Option(
      names = "--rig",
      paramLabel = "RIG",
      description = "whole or server. Else as the plan says, else whole.")
  private @Nullable String rig;

  @Option(names = "--brewer", paramLabel = "NAME", description = "Who poured.")
  private String brewer = "";

  @Override
  void act(JournalFile open) throws IOException, Failure {
    if (file.toString().toLowerCase(Locale.ROOT).endsWith(".csv")) {
      importCsv(open);
      return;
    }
    if (isJournal()) {
      List<String> lost = new ArrayList<>();
      List<Long> added = open.addAllOf(file, lost::add);
      finish(added.size(), 0, lost);
      return;
    }
    RunArchive.Imported imported = new RunArchive(open).importFrom(file, Lanes::analyse);
    finish(imported.added().size(), imported.known(), imported.refused());
  }

  private boolean isJournal() throws IOException {
    if (!Files.isRegularFile(file)) {
      return false;
    }
    try (InputStream in = Files.newInputStream(file)) {
      return new String(in.readNBytes(JOURNAL_START.length()), StandardCharsets.US_ASCII)
          .equals(JOURNAL_START);
    }
  }

  private void finish(int added, int known, List<String> refused) throws Failure {
    refused.forEach(sentence -> err().println("note: " + sentence));
    err()
        .println(
            counted(added, "new")
                + (known > 0 ? ", " + counted(known, "in the journal already") : ""));
    if (!refused.isEmpty()) {
      throw new Failure(counted(refused.size(), "not readable") + " and left out");
    }
  }

  private static String counted(int count, String what) {
    return count + (count == 1 ? " run is " : " runs are ") + what;
  }

  private void importCsv(JournalFile open) throws IOException, Failure {
    Optional<PlanFile> read = plan == null ? Optional.empty() : Optional.of(PlanFile.read(plan));
    Rig where = rig(read);
    ForeignCsv.Mapping mapping =
        new ForeignCsv.Mapping(
            time,
            mass,
            ForeignCsv.TimeUnit.findByWord(timeUnit.toLowerCase(Locale.ROOT))
                .orElseThrow(
                    () -> misuse("--time-unit must be s, ms or us, not '" + timeUnit + "'")),
            List.of(MassUnit.values()).stream()
                .filter(unit -> unit.symbol().equals(massUnit.toLowerCase(Locale.ROOT)))
                .findFirst()
                .orElseThrow(
                    () ->
                        misuse(
                            "--mass-unit must be "
                                + List.of(MassUnit.values()).stream()
                                    .map(MassUnit::symbol)
                                    .collect(Collectors.joining(", "))
                                + ", not '"
                                + massUnit
                                + "'")),
            where == Rig.SERVER ? Place.SERVER : Place.WHOLE);
    ForeignRun.Added added;
    try (InputStream in = Recordings.open(file)) {
      added =
          ForeignRun.add(
              open,
              in,
              file.toString(),
              Files.getLastModifiedTime(file).toInstant(),
              mapping,
              where,
              read.map(known -> new RunStart.WrittenPlan(known.text(), known.plan())),
              brewer,
              Lanes::analyse);
    }
    if (added.passedOver() > 0) {
      err()
          .println(
              "note: "
                  + added.passedOver()
                  + (added.passedOver() == 1 ? " row has" : " rows have")
                  + " no number in one of the two columns and were passed over");
    }
    err().println("kept as run " + added.run() + " (" + added.weights() + " weights)");
  }

  private Rig rig(Optional<PlanFile> read) {
    Rig where = read.map(known -> known.plan().rig()).orElse(Rig.WHOLE);
    if (rig != null) {
      String word = rig;
      where =
          Rig.findByWord(word.toLowerCase(Locale.ROOT))
              .orElseThrow(() -> misuse("--rig must be whole or server, not '" + word + "'"));
    }
    if (where == Rig.SPLIT) {
      throw misuse("one column of masses is one scale; say --rig whole or --rig server");
    }
    return where;
  }
}
