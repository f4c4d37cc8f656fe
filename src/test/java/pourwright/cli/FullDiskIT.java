package pourwright.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;

/** Rehearsals of the packaged program while the disk under its journal really has no room left. */
@EnabledOnOs(OS.LINUX)
@Timeout(400)
class FullDiskIT {
  private static final Duration LIMIT = Duration.ofMinutes(2);
  private static final String RUNNING = "running";
  private static final String FULL = "the disk is full";

  private final Path folder;
  private final Path plan;

  FullDiskIT(@TempDir Path folder) throws IOException {
    this.folder = folder;
    this.plan = Files.writeString(folder.resolve("plan.yaml"), RehearseIT.PLAN);
  }

  private SmallDisk diskToFill() throws Exception {
    boolean can = SmallDisk.canBeHad(folder);
    if (!can) {
      System.err.println("SKIPPED: no right to mount a small disk, so none was filled");
    }
    Assumptions.assumeTrue(can, "no right to mount a small disk");
    return SmallDisk.mountedAt(folder.resolve("disk"));
  }

  private String[] rehearse(Path data, String scale) {
    return new String[] {
      "rehearse", plan.toString(), "--scale", scale, "--data", data.toString(), "--no-page"
    };
  }

  private void keepOne(Path data) throws IOException, InterruptedException {
    Ran ran = Program.run(folder, "older", rehearse(data, "sim:stage?seed=1&speed=0"));
    assertThat(ran.status()).as(ran.err()).isZero();
  }

  /** Every file of every run of a journal; what differs from copy to copy is left out. */
  private Map<String, List<String>> filesOf(String name, Path data)
      throws IOException, InterruptedException {
    Path to = folder.resolve(name);
    Ran ran =
        Program.run(
            folder,
            name + "-export",
            "runs",
            "export",
            "--all",
            "--to",
            to.toString(),
            "--data",
            data.toString());
    assertThat(ran.status()).as(ran.err()).isZero();
    Map<String, List<String>> files = new TreeMap<>();
    try (Stream<Path> all = Files.walk(to)) {
      for (Path file : all.filter(Files::isRegularFile).toList()) {
        files.put(to.relativize(file).toString(), Files.readAllLines(file));
      }
    }
    return files;
  }

  /** The weights and bytes of the only run that {@code older} does not have. */
  private static List<List<String>> recordedBeyond(
      Map<String, List<String>> older, Map<String, List<String>> all) {
    List<List<String>> recorded = new ArrayList<>();
    assertThat(all).containsAllEntriesOf(older);
    all.forEach(
        (name, lines) -> {
          if (!older.containsKey(name) && (name.endsWith(".csv") || name.endsWith(".stream"))) {
            recorded.add(lines.stream().filter(line -> !line.startsWith("#")).toList());
          }
        });
    assertThat(recorded).hasSize(2);
    return recorded;
  }

  /** The same simulated rehearsal on a disk with room. */
  private List<List<String>> undisturbed(String seed) throws IOException, InterruptedException {
    Path data = folder.resolve("roomy");
    Ran ran =
        Program.run(folder, "undisturbed", rehearse(data, "sim:stage?seed=" + seed + "&speed=0"));
    assertThat(ran.status()).as(ran.err()).isZero();
    return recordedBeyond(Map.of(), filesOf("roomy-runs", data));
  }

  @Test
  void a_rehearsal_goes_on_says_so_and_is_whole_once_there_is_room() throws Exception {
    try (SmallDisk disk = diskToFill()) {
      Path data = disk.folder().resolve("data");
      keepOne(data);
      Map<String, List<String>> older = filesOf("before", data);
      try (Program program =
          Program.start(folder, "full", rehearse(data, "sim:stage?seed=2&speed=12"))) {
        program.awaitTalk(RUNNING, LIMIT);
        disk.fill();
        program.awaitTalk(FULL, LIMIT);
        program.awaitTalk("finished", LIMIT);
        program.awaitTalk("This program waits", LIMIT);
        assertThat(program.isRunning()).isTrue();
        disk.makeRoom();
        Ran ran = program.end(LIMIT);

        assertThat(ran.status()).as(ran.err()).isZero();
        assertThat(ran.out()).contains("Deviation index");
        assertThat(ran.err())
            .contains(data.resolve("journal.sqlite").toString(), "make room", "in memory")
            .contains("kept as run 2")
            .doesNotContain("\tat ");
      }
      assertThat(recordedBeyond(older, filesOf("after", data))).isEqualTo(undisturbed("2"));
    }
  }

  @Test
  void a_run_that_finds_no_room_to_its_end_is_put_elsewhere_and_brought_back() throws Exception {
    Path refuge = Files.createDirectory(folder.resolve("refuge"));
    try (SmallDisk disk = diskToFill()) {
      Path data = disk.folder().resolve("data");
      keepOne(data);
      Map<String, List<String>> older = filesOf("before", data);
      Path elsewhere;
      try (Program program =
          Program.start(
              folder,
              "full",
              new Program.Launch(List.of(), Program.jar(), List.of("-Djava.io.tmpdir=" + refuge)),
              rehearse(data, "sim:stage?seed=3&speed=12"))) {
        program.awaitTalk(RUNNING, LIMIT);
        disk.fill();
        program.awaitTalk("This program waits", LIMIT);
        program.interrupt();
        Ran ran = program.end(Keeping.USUAL_PATIENCE.dividedBy(2)); // so not by itself

        assertThat(ran.status()).isEqualTo(1);
        String last = ran.err().lines().reduce("", (first, second) -> second);
        Matcher told = Pattern.compile(FULL + ".*it is in (\\S+) instead").matcher(last);
        assertThat(told.find()).as(last).isTrue();
        assertThat(ran.err()).doesNotContain("\tat ");
        elsewhere = Path.of(told.group(1));
        assertThat(elsewhere).exists().startsWith(refuge);
      }
      disk.makeRoom();
      Ran back =
          Program.run(
              folder, "back", "runs", "import", elsewhere.toString(), "--data", data.toString());
      assertThat(back.status()).as(back.err()).isZero();
      assertThat(back.err()).contains("1 run is new");
      assertThat(recordedBeyond(older, filesOf("after", data))).isEqualTo(undisturbed("3"));
    }
  }

  @Test
  void a_disk_that_is_full_before_the_run_begins_is_told_and_older_runs_stay() throws Exception {
    try (SmallDisk disk = diskToFill()) {
      Path data = disk.folder().resolve("data");
      keepOne(data);
      Map<String, List<String>> older = filesOf("before", data);
      disk.fill();
      for (Path used : List.of(data, disk.folder().resolve("fresh"))) {
        Ran ran = Program.run(folder, "full", rehearse(used, "sim:stage?seed=4&speed=0"));
        assertThat(ran.status()).isEqualTo(1);
        assertThat(ran.err().lines()).hasSize(1);
        assertThat(ran.err()).contains(FULL, used.toString(), "make room");
      }
      disk.makeRoom();
      assertThat(filesOf("after", data)).isEqualTo(older);
    }
  }

  @Test
  void a_rehearsal_goes_on_while_no_file_may_grow() throws Exception {
    Path data = folder.resolve("data");
    keepOne(data);
    Map<String, List<String>> older = filesOf("before", data);
    try (Program program =
        Program.start(folder, "limited", rehearse(data, "sim:stage?seed=5&speed=12"))) {
      program.awaitTalk(RUNNING, LIMIT);
      limitFiles(program, Files.size(data.resolve("journal.sqlite-wal")) + ":");
      program.awaitTalk("the run is not in the journal yet", LIMIT);
      program.awaitTalk("This program waits", LIMIT);
      limitFiles(program, "unlimited:");
      Ran ran = program.end(LIMIT);
      assertThat(ran.status()).as(ran.err()).isZero();
      assertThat(ran.err()).contains("kept as run 2").doesNotContain("\tat ");
    }
    assertThat(recordedBeyond(older, filesOf("after", data))).isEqualTo(undisturbed("5"));
  }

  /** Sets the size beyond which the operating system refuses to let a file of a program grow. */
  private static void limitFiles(Program program, String bytes) throws Exception {
    int status;
    try {
      status =
          new ProcessBuilder("prlimit", "--pid", String.valueOf(program.id()), "--fsize=" + bytes)
              .inheritIO()
              .start()
              .waitFor();
    } catch (IOException noSuchProgram) {
      status = -1;
    }
    if (status != 0) {
      System.err.println("SKIPPED: no right to limit the files of a program");
    }
    Assumptions.assumeTrue(status == 0, "no right to limit the files of a program");
  }

  @Test
  void a_result_that_cannot_be_printed_is_told() throws Exception {
    Path trace = Traces.fourPours(folder);
    String java = Path.of(System.getProperty("java.home"), "bin", "java").toString();
    for (String format : List.of("text", "json")) {
      Process process =
          new ProcessBuilder(
                  Stream.concat(
                          Stream.of(java, "-jar", Program.jar().toString()),
                          Arrays.stream(
                              new String[] {"analyse", trace.toString(), "--format", format}))
                      .toList())
              .redirectOutput(Path.of("/dev/full").toFile())
              .start();
      String err = new String(process.getErrorStream().readAllBytes(), StandardCharsets.UTF_8);
      assertThat(process.waitFor()).isEqualTo(1);
      assertThat(err.lines()).hasSize(1);
      assertThat(err).contains("could not be written", "full");
    }
  }
}
