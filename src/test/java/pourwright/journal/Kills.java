package pourwright.journal;

import java.io.IOException;
import java.net.URL;
import java.net.URLClassLoader;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.concurrent.TimeUnit;
import java.util.stream.Collectors;
import pourwright.device.Transport.Arrival;
import pourwright.rig.Place;

/**
 * Kills programs that record at random moments (SIGKILL, no chance to do anything more), looks
 * through the journal after each, and says what was lost. As a main: rounds, then a seed.
 */
public final class Kills {
  /** From the start of the program: before, in and after the opening of the journal. */
  private static final long LONGEST_LIFE_MILLIS = 6_000;

  /** From the first chunk on, in two rounds of three. */
  private static final long LONGEST_RECORDING_MILLIS = 3_000;

  private static final long PATIENCE_MILLIS = 60_000;

  /** Own promise: at most the last second is lost. */
  static final double MOST_LOST_SECONDS = 1.0;

  private final Path folder;
  private final SplittableRandom random;
  private final Map<Long, Integer> heard = new HashMap<>();

  Kills(Path folder, long seed) {
    this.folder = folder;
    this.random = new SplittableRandom(seed);
  }

  /**
   * One round.
   *
   * @param told seconds of the run that came over the wire before the kill
   * @param lostSeconds how much of that is not in the journal
   * @param wrong what else is not as it should be
   */
  record Round(double told, double lostSeconds, List<String> wrong) {}

  Round round(long seed) throws IOException, InterruptedException {
    Path said = folder.resolve("said.txt");
    Path journalFolder = folder.resolve("data");
    Process program =
        new ProcessBuilder(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-XX:TieredStopAtLevel=1",
                "-cp",
                classPath(),
                KilledRecorder.class.getName(),
                journalFolder.toString(),
                String.valueOf(seed))
            .redirectOutput(said.toFile())
            .redirectError(ProcessBuilder.Redirect.INHERIT)
            .start();
    try {
      long life = 300 + random.nextLong(LONGEST_LIFE_MILLIS);
      if (random.nextInt(3) > 0) {
        life = random.nextLong(LONGEST_RECORDING_MILLIS);
        awaitFirstWord(said);
      }
      if (program.waitFor(life, TimeUnit.MILLISECONDS)) {
        throw new IllegalStateException("the recorder ended by itself: " + program.exitValue());
      }
    } finally {
      program.destroyForcibly().waitFor();
    }
    List<Long> times = new ArrayList<>();
    List<String> wrong = new ArrayList<>();
    for (String line : Files.readAllLines(said)) {
      if (line.matches("\\d+")) {
        times.add(Long.parseLong(line));
      } else {
        wrong.add("it said: " + line);
      }
    }
    return look(journalFolder, times, wrong);
  }

  private static void awaitFirstWord(Path said) throws IOException, InterruptedException {
    for (long waited = 0; Files.size(said) == 0; waited += 10) {
      if (waited > PATIENCE_MILLIS) {
        throw new IllegalStateException("the recorder says nothing");
      }
      Thread.sleep(10);
    }
  }

  private Round look(Path journalFolder, List<Long> times, List<String> wrong) throws IOException {
    double last = times.isEmpty() ? 0 : times.get(times.size() - 1) / 1e9;
    double kept = 0;
    try (JournalFile journal =
        JournalFile.open(journalFolder, note -> wrong.add("opening it said: " + note))) {
      List<RunEntry> recovered = journal.recover(Rehearsals::analyse);
      wrong.addAll(journal.check());
      for (Map.Entry<Long, Integer> run : heard.entrySet()) {
        if (journal.wire(run.getKey(), Place.WHOLE).size() != run.getValue()) {
          wrong.add("run " + run.getKey() + " of an earlier round is another now");
        }
      }
      if (recovered.size() > 1) {
        wrong.add(recovered.size() + " runs were cut short in one round");
      }
      Optional<RunEntry> run = recovered.stream().findFirst();
      if (run.isPresent()) {
        List<Arrival> wire = journal.wire(run.get().id(), Place.WHOLE);
        heard.put(run.get().id(), wire.size());
        if (wire.size() > times.size() + 1) {
          wrong.add("more was kept than came");
        }
        for (int i = 0; i < Math.min(wire.size(), times.size()); i++) {
          if (wire.get(i).at().nanos() != times.get(i)) {
            wrong.add("chunk " + i + " is another one");
            break;
          }
        }
        if (journal.findRun(run.get().id()).orElseThrow().judgement().isEmpty()
            && journal.trace(run.get().id()).size() > 0) {
          wrong.add("it was not judged");
        }
        kept = wire.get(wire.size() - 1).at().seconds();
      }
    }
    return new Round(last, Math.max(0, last - kept), wrong);
  }

  /** As this program was started, by whatever. */
  private static String classPath() {
    String surefire = System.getProperty("surefire.test.class.path");
    if (surefire != null) {
      return surefire;
    }
    if (Thread.currentThread().getContextClassLoader() instanceof URLClassLoader loader) {
      return Arrays.stream(loader.getURLs())
          .map(URL::getPath)
          .collect(Collectors.joining(System.getProperty("path.separator")));
    }
    return System.getProperty("java.class.path");
  }

  public static void main(String[] args) throws Exception {
    int rounds = args.length > 0 ? Integer.parseInt(args[0]) : 200;
    long seed = args.length > 1 ? Long.parseLong(args[1]) : 1;
    Path folder = Files.createTempDirectory("kills");
    Kills kills = new Kills(folder, seed);
    List<Double> lost = new ArrayList<>();
    int recording = 0;
    int wrong = 0;
    for (int i = 0; i < rounds; i++) {
      Round round = kills.round(seed * 1_000 + i);
      if (round.told() > 0) {
        recording++;
        lost.add(round.lostSeconds());
      }
      if (!round.wrong().isEmpty()) {
        wrong++;
        System.out.println("round " + i + ": " + round);
      }
    }
    Collections.sort(lost);
    System.out.printf(
        Locale.ROOT,
        "%d kills, %d of them while a run was recorded; lost of the wire: median %.2f s, most %.2f"
            + " s; %d rounds with anything wrong (integrity check after each); journal %d kB%n",
        rounds,
        recording,
        lost.isEmpty() ? 0 : lost.get(lost.size() / 2),
        lost.isEmpty() ? 0 : lost.get(lost.size() - 1),
        wrong,
        Files.size(folder.resolve("data").resolve(JournalPlace.NAME)) / 1_000);
  }
}
