package pourwright.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.TreeMap;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;
import pourwright.journal.JournalFile;
import pourwright.journal.Recording;

/**
 * Sees to it that a run that is over stays kept. What could not be written into its journal is only
 * in memory: the brewer gets the time to make room, and where that does not come about the run is
 * put into a journal of its own on another disk.
 */
final class Keeping {
  /** Time to make room on a full disk; own choice. */
  static final Duration USUAL_PATIENCE = Duration.ofMinutes(2);

  private static final Duration BETWEEN_TRIES = Duration.ofSeconds(1);

  private final Recording recording;
  private final List<Path> refuges;
  private final Duration patience;
  private final PrintWriter err;

  /**
   * @param refuges folders to try, in this order, where the journal's own disk stays closed
   * @param patience before a refuge is sought
   */
  Keeping(Recording recording, List<Path> refuges, Duration patience, PrintWriter err) {
    this.recording = recording;
    this.refuges = refuges;
    this.patience = patience;
    this.err = err;
  }

  /** Folders that every user has: for passing files, the own one, and where the program began. */
  static List<Path> usualRefuges() {
    Set<Path> folders = new LinkedHashSet<>();
    for (String property : List.of("java.io.tmpdir", "user.home", "user.dir")) {
      folders.add(Path.of(System.getProperty(property, ".")).toAbsolutePath().normalize());
    }
    return List.copyOf(folders);
  }

  /**
   * Writes the run into its journal, however long that takes within the patience, and says under
   * which number.
   *
   * @param trouble what has kept it out until now
   * @param stopped when the brewer does not want to wait
   * @throws Failure when it is not in its journal; the message says where it is instead
   */
  void insist(String trouble, CountDownLatch stopped) throws Failure, InterruptedException {
    err.println("note: " + trouble);
    err.println(
        "This program waits "
            + patience.toSeconds()
            + " s for room; Ctrl-C puts the run into another place at once.");
    err.flush();
    String last;
    long until = System.nanoTime() + patience.toNanos();
    do {
      try {
        recording.persist();
        say();
        return;
      } catch (IOException still) {
        last = reason(still);
      }
    } while (!stopped.await(BETWEEN_TRIES.toMillis(), TimeUnit.MILLISECONDS)
        && System.nanoTime() < until);
    throw new Failure("the run is not in its journal: " + last + "; " + seekRefuge());
  }

  /** Without what was said of waiting, which is over. */
  private static String reason(IOException refused) {
    @Nullable Throwable cause = refused.getCause();
    return String.valueOf((cause == null ? refused : cause).getMessage());
  }

  /** What became of the run, as the end of a sentence. */
  private String seekRefuge() {
    for (Path folder : refuges) {
      try {
        Path own = Files.createTempDirectory(folder, "pourwright-run-");
        try (JournalFile refuge = JournalFile.open(own, note -> {})) {
          recording.moveTo(refuge);
          return "it is in "
              + refuge.path()
              + " instead, from where `pourwright runs import` brings it back";
        }
      } catch (IOException alsoClosed) {
        // The next one may have room.
      }
    }
    return "no other place could take it either, so only what was written before is kept";
  }

  /** Says where the run is. */
  void say() {
    new TreeMap<>(recording.runs())
        .values()
        .forEach(run -> err.println("kept as run " + run + " (pourwright runs show " + run + ")"));
    err.flush();
  }
}
