package pourwright.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;
import pourwright.journal.JournalFile;
import pourwright.journal.RunEntry;
import pourwright.record.DataFolder;

/** How commands come by the journal, and what is said on the way. */
final class OpenJournal {
  private static final DateTimeFormatter LOCAL =
      DateTimeFormatter.ofPattern("uuuu-MM-dd HH:mm", Locale.ROOT);

  @Option(
      names = "--data",
      paramLabel = "DIR",
      description =
          "Where the journal is. Else $POURWRIGHT_DATA, else the usual place for a program's data.")
  private @Nullable Path data;

  /**
   * The journal that the options name; what was cut short before is recovered and told. One that
   * may not be written to can be looked at.
   */
  JournalFile open(PrintWriter err) throws Failure {
    DataFolder folder = RunOptions.dataFolder(Optional.ofNullable(data));
    return recovered(err, notes -> JournalFile.openToLook(folder.path(), notes));
  }

  /** The journal of a data folder; what was cut short before is recovered and told. */
  static JournalFile in(DataFolder data, PrintWriter err) throws Failure {
    return recovered(err, notes -> JournalFile.open(data.path(), notes));
  }

  private interface Opening {
    JournalFile with(Consumer<String> notes) throws IOException;
  }

  private static JournalFile recovered(PrintWriter err, Opening opening) throws Failure {
    try {
      JournalFile journal = opening.with(note -> tell(err, note));
      for (RunEntry run : journal.recover(Lanes::analyse)) {
        tell(
            err,
            "the recording of run "
                + run.id()
                + " ("
                + local(run.startedAt())
                + ") was cut short; "
                + Words.seconds(run.length())
                + " of it were kept and judged: `pourwright runs show "
                + run.id()
                + "`, or `runs delete "
                + run.id()
                + "`");
      }
      return journal;
    } catch (IOException refused) {
      throw Failure.of(refused);
    }
  }

  /** The journal for a new run, with what the brewer should know before it begins. */
  static JournalFile forRecording(DataFolder data, PrintWriter err) throws Failure {
    JournalFile journal = in(data, err);
    try {
      if (journal.isRecordedTo()) {
        tell(
            err,
            "another program is recording into this journal now; both runs are kept, but end it"
                + " if you did not mean to");
      }
      Optional<Instant> last = journal.findLastStart();
      if (last.isPresent() && last.get().isAfter(Instant.now())) {
        tell(
            err,
            "the clock of this computer stands before the last run ("
                + local(last.get())
                + "); set it right. Runs stay in the order in which they were made");
      }
      return journal;
    } catch (IOException refused) {
      journal.close();
      throw Failure.of(refused);
    }
  }

  private static void tell(PrintWriter err, String note) {
    err.println("note: " + note);
    err.flush();
  }

  /** A moment as the clock on the wall showed it. */
  static String local(Instant at) {
    return LOCAL.format(at.atZone(ZoneId.systemDefault()));
  }
}
