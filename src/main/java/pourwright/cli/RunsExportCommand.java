package pourwright.cli;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import pourwright.exchange.RunArchive;
import pourwright.journal.JournalFile;
import pourwright.journal.RunEntry;
import pourwright.journal.RunFilter;

/** Takes runs out of the journal. */
@Command(
    name = "export",
    versionProvider = Main.Version.class,
    mixinStandardHelpOptions = true,
    usageHelpAutoWidth = true,
    header = "Write runs as files: trace (CSV), raw bytes, plan, result and notes (JSON).",
    footer = {
      "",
      "Each run is a folder: trace.csv and *.stream can be analysed and replayed, and all of it "
          + "goes into another journal with runs import."
    })
final class RunsExportCommand extends JournalCommand {
  @Parameters(arity = "0..*", paramLabel = "RUN", description = "Numbers of runs.")
  private List<Long> runs = new ArrayList<>();

  @Option(names = "--all", description = "Every run that is not deleted.")
  private boolean isAll;

  @Option(
      names = "--to",
      paramLabel = "PLACE",
      required = true,
      description = "A file that ends in .zip, or a folder; must not exist yet.")
  private @Nullable Path target;

  @Override
  void act(JournalFile open) throws IOException {
    if (runs.isEmpty() && !isAll) {
      throw misuse("say which runs, or --all");
    }
    List<Long> wanted = new ArrayList<>(runs);
    if (isAll) {
      wanted = new ArrayList<>(open.listRuns(RunFilter.all()).stream().map(RunEntry::id).toList());
      Collections.reverse(wanted);
    }
    Path place = target;
    if (place != null) {
      int count = new RunArchive(open).exportTo(place, wanted);
      err().println(count + (count == 1 ? " run is" : " runs are") + " written to " + place);
    }
  }
}
