package pourwright.journal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIOException;

import java.io.IOException;
import java.io.InputStream;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.SplittableRandom;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

@Timeout(60)
class JournalPlaceTest {
  private final Path folder;
  private final Path file;
  private final List<String> notes = new ArrayList<>();

  JournalPlaceTest(@TempDir Path folder) {
    this.folder = folder;
    this.file = folder.resolve("journal.sqlite");
  }

  private JournalFile open() throws IOException {
    return JournalFile.open(folder, notes::add);
  }

  private void keepOne() throws Exception {
    try (JournalFile journal = open()) {
      Rehearsals.twoPours(journal.record());
    }
  }

  private Path onlyAside(String kind) throws IOException {
    try (Stream<Path> files = Files.list(folder)) {
      return files
          .filter(path -> path.getFileName().toString().matches("journal-" + kind + "-.*\\.sqlite"))
          .reduce(
              (one, other) -> {
                throw new AssertionError("two of them");
              })
          .orElseThrow();
    }
  }

  private void change(String sql) throws SQLException {
    try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file);
        Statement statement = connection.createStatement()) {
      statement.execute(sql);
    }
  }

  private void assertNewAndWorking() throws Exception {
    try (JournalFile journal = open()) {
      assertThat(journal.listRuns(RunFilter.all())).isEmpty();
      Rehearsals.twoPours(journal.record());
      assertThat(journal.listRuns(RunFilter.all())).hasSize(1);
      assertThat(journal.check()).isEmpty();
    }
  }

  @Test
  void a_journal_is_one_file_when_nobody_has_it_open() throws Exception {
    keepOne();
    try (Stream<Path> files = Files.list(folder)) {
      assertThat(files.map(path -> path.getFileName().toString()))
          .containsExactlyInAnyOrder("journal.sqlite", ".journal.lock");
    }
  }

  /** Opened as where nothing may be written: the file alone, as it lies there. */
  private Database openToRead() throws IOException {
    return new JournalPlace(folder, Schema.newest(), notes::add).openToRead();
  }

  private static long runsIn(Database journal) throws IOException {
    return journal.read(file -> file.number("SELECT count(*) FROM run"));
  }

  @Test
  void where_nothing_may_be_written_the_runs_can_be_read_and_not_changed() throws Exception {
    keepOne();
    byte[] before = Files.readAllBytes(file);
    try (Database journal = openToRead()) {
      assertThat(runsIn(journal)).isOne();
      assertThatIOException()
          .isThrownBy(() -> journal.write(rows -> rows.update("DELETE FROM run")))
          .withMessageContaining(file + " must not be written to")
          .withMessageContaining("--data");
      assertThat(runsIn(journal)).isOne();
    }
    assertThat(file).hasBinaryContent(before);
    try (Stream<Path> files = Files.list(folder)) {
      assertThat(files).hasSize(2);
    }
  }

  @Test
  void where_nothing_may_be_written_what_another_program_just_wrote_is_read_too() throws Exception {
    keepOne();
    try (JournalFile recording = open()) {
      Rehearsals.twoPours(recording.record());
      try (Database journal = openToRead()) {
        assertThat(runsIn(journal)).isEqualTo(2);
      }
    }
  }

  @Test
  void where_nothing_may_be_written_what_is_no_journal_is_refused() throws Exception {
    change("CREATE TABLE shopping (what TEXT)");
    assertThatIOException()
        .isThrownBy(this::openToRead)
        .withMessageContaining(file + " is no journal of this version")
        .withMessageContaining("copy it");
  }

  @Test
  void an_empty_file_is_set_aside() throws Exception {
    Files.createFile(file);
    assertNewAndWorking();

    assertThat(onlyAside("empty")).isEmptyFile();
    assertThat(notes).singleElement().asString().contains(file + " is empty", "is kept as");
  }

  @Test
  void a_file_that_is_no_database_is_set_aside_unchanged() throws Exception {
    byte[] text =
        "this is a shopping list, and quite a long one at that\n"
            .repeat(50)
            .getBytes(StandardCharsets.UTF_8);
    Files.write(file, text);
    assertNewAndWorking();

    assertThat(onlyAside("damaged")).hasBinaryContent(text);
    assertThat(notes).singleElement().asString().contains(file + " is damaged", "is kept as");
  }

  @Test
  void a_journal_of_a_newer_version_is_set_aside_unchanged() throws Exception {
    keepOne();
    change("PRAGMA user_version=1000");
    byte[] newer = Files.readAllBytes(file);
    assertNewAndWorking();

    assertThat(onlyAside("newer")).hasBinaryContent(newer);
    assertThat(notes).singleElement().asString().contains("newer version", "is kept as");
  }

  @Test
  void a_database_of_another_program_is_set_aside_unchanged() throws Exception {
    change("CREATE TABLE shopping (item TEXT)");
    byte[] foreign = Files.readAllBytes(file);
    assertNewAndWorking();

    assertThat(onlyAside("foreign")).hasBinaryContent(foreign);
    assertThat(notes).singleElement().asString().contains("no journal of this program");
  }

  /** Wherever the damage is: it is seen when the journal is opened, and nothing is overwritten. */
  @ParameterizedTest
  @ValueSource(longs = {1, 2, 3, 4, 5, 6})
  void a_damaged_journal_is_set_aside_unchanged(long seed) throws Exception {
    for (int i = 0; i < 3; i++) {
      keepOne();
    }
    SplittableRandom random = new SplittableRandom(seed);
    long size = Files.size(file);
    try (FileChannel channel = FileChannel.open(file, StandardOpenOption.WRITE)) {
      if (seed % 2 == 0) {
        channel.truncate(size / 2 / 4096 * 4096 + random.nextInt(4096));
      } else {
        // Page 2 on are roots of tables and indexes: trees that no longer hold together.
        for (int page = 1; page < 12; page++) {
          byte[] noise = new byte[64];
          random.nextBytes(noise);
          channel.write(ByteBuffer.wrap(noise), page * 4096L);
        }
      }
    }
    byte[] damaged = Files.readAllBytes(file);
    assertNewAndWorking();

    assertThat(onlyAside("damaged")).hasBinaryContent(damaged);
    assertThat(notes).singleElement().asString().contains("is damaged", "a new journal is begun");
  }

  @Test
  void leftovers_of_a_journal_that_was_taken_away_are_not_mixed_into_a_new_one() throws Exception {
    keepOne();
    Files.delete(file);
    Path leftover = folder.resolve("journal.sqlite-wal");
    Files.writeString(leftover, "pages of another file");
    assertNewAndWorking();

    try (Stream<Path> files = Files.list(folder)) {
      assertThat(files.filter(path -> path.toString().endsWith("-wal")))
          .singleElement()
          .satisfies(path -> assertThat(path).hasContent("pages of another file"));
    }
  }

  @Test
  void a_folder_that_cannot_be_made_is_named_with_a_way_out() throws Exception {
    Path inTheWay = Files.writeString(folder.resolve("plain"), "a file");
    assertThatIOException()
        .isThrownBy(() -> JournalFile.open(inTheWay, notes::add))
        .withMessageContaining(inTheWay.toString())
        .withMessageContaining("--data");
  }

  @Test
  void a_place_where_no_file_can_be_made_is_named() throws Exception {
    Files.createDirectory(folder.resolve("journal.sqlite"));
    assertThatIOException()
        .isThrownBy(this::open)
        .withMessageContaining(file.toString())
        .withMessageContaining("must not be written to");
  }

  @Test
  void an_older_journal_is_brought_up_to_date_and_kept_as_it_was() throws Exception {
    keepOne();
    List<String> scripts = new ArrayList<>();
    scripts.add("-- as it is now\n;");
    scripts.add(";");
    scripts.add("ALTER TABLE run ADD COLUMN weather TEXT;\nUPDATE run SET weather = 'rain';\n");
    JournalPlace later = new JournalPlace(folder, new Schema(scripts), notes::add);
    try (Database database = later.open()) {
      assertThat(
              database.<Long>read(
                  rows -> rows.number("SELECT count(*) FROM run WHERE weather = 'rain'")))
          .isEqualTo(1);
      assertThat(database.<Long>read(rows -> rows.number("PRAGMA user_version"))).isEqualTo(3);
    }
    Path copy = onlyAside("before-update");
    assertThat(notes).singleElement().asString().contains("brought up to date", copy.toString());
    try (Database before = Database.open(copy)) {
      assertThat(before.<Long>read(rows -> rows.number("PRAGMA user_version"))).isEqualTo(2);
    }
  }

  @Test
  void a_step_that_fails_leaves_the_older_journal_as_it_was() throws Exception {
    keepOne();
    Schema broken =
        new Schema(List.of(";", ";", "ALTER TABLE run ADD COLUMN weather TEXT;\nNO SUCH THING;\n"));
    JournalPlace later = new JournalPlace(folder, broken, notes::add);
    assertThatIOException().isThrownBy(later::open);

    try (JournalFile journal = open()) {
      assertThat(journal.listRuns(RunFilter.all())).hasSize(1);
      assertThat(journal.check()).isEmpty();
    }
  }

  @Test
  void programs_that_open_a_new_journal_at_once_share_it() throws Exception {
    ExecutorService programs = Executors.newFixedThreadPool(6);
    try {
      List<Future<Long>> kept = new ArrayList<>();
      for (int i = 0; i < 6; i++) {
        Callable<Long> keep =
            () -> {
              try (JournalFile journal = JournalFile.open(folder, note -> {})) {
                Recording recording = journal.record();
                Rehearsals.twoPours(recording);
                return recording.runs().get(1);
              }
            };
        kept.add(programs.submit(keep));
      }
      for (Future<Long> run : kept) {
        assertThat(run.get()).isPositive();
      }
    } finally {
      programs.shutdownNow();
    }
    try (JournalFile journal = open()) {
      assertThat(journal.listRuns(RunFilter.all())).hasSize(6);
      assertThat(journal.check()).isEmpty();
    }
    assertThat(notes).isEmpty();
  }

  @Test
  void what_can_be_read_of_a_journal_that_was_set_aside_is_taken_over() throws Exception {
    for (int i = 0; i < 3; i++) {
      keepOne();
    }
    change("UPDATE trace SET tape = x'00' WHERE run = 2");
    Path aside = Files.move(file, folder.resolve("aside.sqlite"));
    keepOne();
    List<String> lost = new ArrayList<>();
    try (JournalFile journal = open()) {
      assertThat(journal.addAllOf(aside, lost::add)).containsExactly(2L, 3L);
      assertThat(journal.addAllOf(aside, note -> {})).isEmpty();
      assertThat(journal.listRuns(RunFilter.all())).hasSize(3);
      assertThat(journal.trace(3).size()).isGreaterThan(400);
    }
    assertThat(lost).containsExactly("run 2 of " + aside + " cannot be read any more");
  }

  @Test
  void a_run_that_makes_no_sense_any_more_is_told_and_others_are_not_harmed() throws Exception {
    keepOne();
    keepOne();
    change("UPDATE judgement SET findings = '{}' WHERE run = 1");
    try (JournalFile journal = open()) {
      assertThatIOException()
          .isThrownBy(() -> journal.findRun(1))
          .withMessageContaining("not readable any more")
          .withMessageContaining(file.toString());
      assertThat(journal.findRun(2)).isPresent();
      assertThat(journal.listRuns(RunFilter.all())).hasSize(2);
    }
  }

  @Test
  void only_a_journal_of_this_version_is_taken_over() throws Exception {
    Path other = folder.resolve("other.sqlite");
    try (Database database = Database.open(other)) {
      database.<Boolean>directly(
          rows -> {
            rows.execute("CREATE TABLE shopping (item TEXT)");
            return true;
          });
    }
    try (JournalFile journal = open()) {
      assertThatIOException()
          .isThrownBy(() -> journal.addAllOf(other, note -> {}))
          .withMessageContaining("no journal of this version");
    }
  }

  @Test
  void a_journal_of_the_first_version_is_brought_up_to_date_with_its_runs() throws Exception {
    String first;
    try (InputStream in =
        Objects.requireNonNull(Schema.class.getResourceAsStream("/pourwright/journal/1.sql"))) {
      first = new String(in.readAllBytes(), StandardCharsets.UTF_8);
    }
    try (Database old = new JournalPlace(folder, new Schema(List.of(first)), notes::add).open()) {
      old.<Boolean>write(
          rows -> {
            rows.execute(
                "INSERT INTO rehearsal VALUES (1,'old',0,'first version',0,'full',0,'lifted',9,NULL,"
                    + "NULL)");
            rows.execute("INSERT INTO run (rehearsal,lane,brewer,rig) VALUES (1,1,'Ada','whole')");
            rows.execute("INSERT INTO scale VALUES (1,'whole','serial:x','number-unit')");
            return true;
          });
    }
    try (JournalFile journal = open()) {
      KeptRun run = journal.findRun(1).orElseThrow();
      assertThat(run.entry().brewer()).isEqualTo("Ada");
      assertThat(run.scales().get(0).lagSeconds()).isEmpty();
      assertThat(journal.check()).isEmpty();
    }
    assertThat(onlyAside("before-update")).exists();
  }
}
