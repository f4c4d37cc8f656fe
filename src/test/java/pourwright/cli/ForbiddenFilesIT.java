package pourwright.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;

/**
 * The packaged program run by someone who may not read or write what it is told to. Root may do
 * everything, so where root runs the tests the program runs as another user.
 */
@EnabledOnOs(OS.LINUX)
@Timeout(400)
class ForbiddenFilesIT {
  private static final Path DEMO_PLAN =
      Path.of("src/main/resources/pourwright/plans/regional-heat.yaml");
  private static final String NOBODY = "65534";
  private static final String SIMULATED = "--scale=sim:stage?seed=1&speed=0";

  private final Path folder;
  private final Path locked;
  private Program.Launch launch = new Program.Launch(List.of(), Program.jar(), List.of());

  ForbiddenFilesIT(@TempDir Path folder) throws IOException {
    this.folder = folder;
    this.locked = Files.createDirectory(folder.resolve("locked"));
  }

  @BeforeEach
  void becomeSomeoneElse() throws Exception {
    permit(folder, "rwxr-xr-x");
    Path temporary = Files.createDirectory(folder.resolve("temporary"));
    permit(temporary, "rwxrwxrwx");
    if ("root".equals(System.getProperty("user.name"))) {
      Path jar = Files.copy(Program.jar(), folder.resolve("pourwright.jar"));
      permit(jar, "r--r--r--");
      launch =
          new Program.Launch(
              List.of("setpriv", "--reuid=" + NOBODY, "--regid=" + NOBODY, "--clear-groups"),
              jar,
              List.of("-Djava.io.tmpdir=" + temporary));
    }
    boolean can;
    try {
      can = Program.run(folder, "version", launch, "--version").status() == 0;
    } catch (IOException noSuchProgram) {
      can = false;
    }
    if (!can) {
      System.err.println("SKIPPED: root cannot run the program as another user here");
    }
    Assumptions.assumeTrue(can, "root cannot run the program as another user here");
  }

  @AfterEach
  void unlock() throws IOException {
    permit(locked, "rwxr-xr-x");
  }

  private String plan() throws IOException {
    Path plan = Files.copy(DEMO_PLAN, folder.resolve("demo.yaml"));
    permit(plan, "r--r--r--");
    return plan.toString();
  }

  private static void permit(Path path, String permissions) throws IOException {
    Files.setPosixFilePermissions(path, PosixFilePermissions.fromString(permissions));
  }

  /** Runs it, and expects one plain line that says all of {@code words}. */
  private void refused(List<String> words, String... args) throws Exception {
    Ran ran = Program.run(folder, "refused", launch, args);
    assertThat(ran.status()).as(ran.err()).isEqualTo(1);
    assertThat(ran.out()).isEmpty();
    assertThat(ran.err().lines()).as(ran.err()).hasSize(1);
    assertThat(ran.err()).contains(words).doesNotContain("Exception");
  }

  @Test
  void a_folder_that_may_not_be_written_to_is_named_with_a_way_out() throws Exception {
    permit(locked, "r-xr-xr-x");
    for (Path data : List.of(locked, locked.resolve("new"))) {
      refused(
          List.of(data.toString(), "must not be written to", "--data"),
          "rehearse",
          SIMULATED,
          "--no-page",
          "--data=" + data);
    }
  }

  @Test
  void a_journal_that_may_not_be_written_to_is_named_with_a_way_out_and_stays_as_it_is()
      throws Exception {
    Path own = folder.resolve("own");
    Ran kept =
        Program.run(folder, "kept", "rehearse", plan(), SIMULATED, "--no-page", "--data=" + own);
    assertThat(kept.status()).as(kept.err()).isZero();
    Path journal = own.resolve("journal.sqlite");
    byte[] before = Files.readAllBytes(journal);
    permit(journal, "r--r--r--");
    permit(own, "r-xr-xr-x");
    try {
      refused(
          List.of(own.toString(), "must not be written to", "--data"),
          "runs",
          "note",
          "1",
          "finer next time",
          "--data=" + own);
      refused(
          List.of(own.toString(), "must not be written to", "--data"),
          "rehearse",
          SIMULATED,
          "--no-page",
          "--data=" + own);
      assertThat(Files.readAllBytes(journal)).isEqualTo(before);
      for (String[] looking :
          new String[][] {{"runs", "list"}, {"runs", "show", "1"}, {"review", "--list"}}) {
        List<String> words = new ArrayList<>(List.of(looking));
        words.add("--data=" + own);
        Ran looked = Program.run(folder, "looked", launch, words.toArray(String[]::new));
        assertThat(looked.status()).as(looked.err()).isZero();
        assertThat(looked.out()).as("%s", words).containsIgnoringCase("regional heat");
        assertThat(looked.err()).isEmpty();
      }
    } finally {
      permit(own, "rwxr-xr-x");
    }
  }

  @Test
  void a_disk_that_is_write_protected_is_named_with_a_way_out() throws Exception {
    boolean can = SmallDisk.canBeHad(folder);
    if (!can) {
      System.err.println("SKIPPED: no right to mount a small disk, so none was write-protected");
    }
    Assumptions.assumeTrue(can, "no right to mount a small disk");
    try (SmallDisk disk = SmallDisk.mountedAt(folder.resolve("disk"))) {
      disk.writeProtect();
      launch = new Program.Launch(List.of(), Program.jar(), List.of());
      refused(
          List.of(disk.folder().toString(), "write-protected", "--data"),
          "rehearse",
          SIMULATED,
          "--no-page",
          "--data=" + disk.folder());
    }
  }

  @Test
  void files_that_may_not_be_read_are_named() throws Exception {
    List<Path> files = new ArrayList<>();
    files.add(Files.writeString(folder.resolve("plan.yaml"), "format: 1\n"));
    files.add(Traces.fourPours(folder));
    for (Path file : files) {
      permit(file, "---------");
    }
    Path plan = files.get(0);
    Path trace = files.get(1);
    String data = "--data=" + folder.resolve("temporary").resolve("data");
    for (String[] args :
        new String[][] {
          {"rehearse", plan.toString(), SIMULATED, "--no-page", data},
          {"plan", "check", plan.toString()},
          {"stage", "solve", plan.toString(), data},
          {"analyse", trace.toString()},
          {"rehearse", "--scale=replay:" + trace, "--no-page", data},
          {"runs", "import", trace.toString(), data},
        }) {
      Path named = List.of(args).toString().contains(plan.toString()) ? plan : trace;
      refused(List.of(named.toString(), "permissions"), args);
    }
  }

  @Test
  void a_file_that_may_not_be_made_is_named() throws Exception {
    Path own = folder.resolve("temporary").resolve("data");
    Ran kept =
        Program.run(
            folder, "kept", launch, "rehearse", plan(), SIMULATED, "--no-page", "--data=" + own);
    assertThat(kept.status()).as(kept.err()).isZero();
    permit(locked, "r-xr-xr-x");
    String data = "--data=" + own;
    for (String[] args :
        new String[][] {
          {"runs", "export", "--all", "--to=" + locked.resolve("runs"), data},
          {"runs", "export", "--all", "--to=" + locked.resolve("runs.zip"), data},
          {"runs", "backup", locked.resolve("copy.sqlite").toString(), data},
          {"review", "--pdf=" + locked.resolve("review.pdf"), data},
          {"review", "--chart=" + locked.resolve("charts"), data},
          {"plan", "build", locked.resolve("new.yaml").toString(), "--dose=16", "--ratio=16"},
        }) {
      refused(List.of(locked.toString(), "permissions"), args);
    }
  }
}
