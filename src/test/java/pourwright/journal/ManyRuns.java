package pourwright.journal;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import java.util.concurrent.Callable;

/**
 * How long things take in a journal of many runs. As a main: the data folder of a demo season, how
 * many runs (10 000 unless told otherwise), and where to make the journal (a new temporary folder
 * unless told).
 */
public final class ManyRuns {
  private static final int REPEATS = 5;

  private ManyRuns() {}

  public static void main(String[] args) throws Exception {
    int count = args.length > 1 ? Integer.parseInt(args[1]) : 10_000;
    Path folder = args.length > 2 ? Path.of(args[2]) : Files.createTempDirectory("many-runs");
    try (JournalFile season = JournalFile.open(Path.of(args[0]), ManyRuns::say);
        JournalFile many = JournalFile.open(folder, ManyRuns::say)) {
      time("fill", 1, () -> fill(season, many, count));
    }
    time(
        "open the journal",
        REPEATS,
        () -> {
          try (JournalFile many = JournalFile.open(folder, ManyRuns::say)) {
            return many.path();
          }
        });
    try (JournalFile many = JournalFile.open(folder, ManyRuns::say)) {
      Instant last = many.findLastStart().orElseThrow();
      RunFilter year = RunFilter.all().from(last.minus(Duration.ofDays(365)));
      long one = many.listRuns(RunFilter.all().limit(1)).get(0).id() - count / 2;
      System.out.printf(
          Locale.ROOT,
          "%d runs, %d of them in the last year; %.1f MB, %.1f kB a run%n",
          many.listRuns(RunFilter.all()).size(),
          many.listRuns(year).size(),
          Files.size(many.path()) / 1e6,
          Files.size(many.path()) / 1e3 / count);
      time("list the newest 40", REPEATS, () -> many.listRuns(RunFilter.all().limit(40)));
      time("list all", REPEATS, () -> many.listRuns(RunFilter.all()));
      time("search a word", REPEATS, () -> many.listRuns(RunFilter.all().matching("packing")));
      time("open one run", REPEATS, () -> many.findRun(one).orElseThrow());
      time("its weights", REPEATS, () -> many.trace(one));
      time("read every run of a year whole", REPEATS, () -> many.listKept(year));
      time("integrity check", 1, many::check);
    }
  }

  private static void say(String note) {
    System.out.println(note);
  }

  private static int fill(JournalFile season, JournalFile many, int count) throws IOException {
    List<RunEntry> entries = season.listRuns(RunFilter.all());
    SplittableRandom random = new SplittableRandom(3);
    Instant first = Instant.parse("2023-01-01T16:00:00Z");
    int had = many.listRuns(RunFilter.all()).size();
    for (int i = had; i < count; i++) {
      WholeRun run =
          season.findWhole(entries.get(random.nextInt(entries.size())).id()).orElseThrow();
      Instant at = first.plus(Duration.ofMinutes(140L * i));
      many.add(RunCopies.of(run, "many-" + i, at));
    }
    return count;
  }

  /** The shortest of several times. */
  private static void time(String what, int repeats, Callable<?> work) throws Exception {
    double best = Double.POSITIVE_INFINITY;
    for (int i = 0; i < repeats; i++) {
      long start = System.nanoTime();
      work.call();
      best = Math.min(best, (System.nanoTime() - start) / 1e6);
    }
    System.out.printf(Locale.ROOT, "%-32s %10.1f ms%n", what, best);
  }
}
