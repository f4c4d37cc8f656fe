package pourwright.journal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIOException;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.Statement;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import pourwright.detect.PourEvent;
import pourwright.device.Bytes;
import pourwright.device.Chunk;
import pourwright.device.Transport.Arrival;
import pourwright.reading.Reading;
import pourwright.recording.Trace;
import pourwright.rig.Place;
import pourwright.session.Command;
import pourwright.session.Outcome;
import pourwright.session.Played;
import pourwright.session.Stand;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

@Timeout(60)
class RecordingTest {
  private static final Stand STAND = new Stand(1, Place.WHOLE);

  private final Path folder;
  private final Path file;
  private final List<String> notes = new ArrayList<>();
  private final JournalFile journal;

  RecordingTest(@TempDir Path folder) throws IOException {
    this.folder = folder;
    this.file = folder.resolve("journal.sqlite");
    this.journal = JournalFile.open(folder, notes::add);
  }

  @AfterEach
  void close() {
    journal.close();
  }

  /** A rig that is poured on: readings {@code from} to {@code to}, ten a second. */
  private static void weigh(Recording recording, int from, int to) {
    for (int i = from; i < to; i++) {
      SessionTime at = SessionTime.ofMillis(i * 100L);
      recording.chunk(STAND, new Chunk(at, Bytes.ofAscii(i + ".5\n")));
      recording.reading(STAND, new Reading(at, Mass.ofGrams(Played.twoPours(i / 10.0))));
    }
  }

  private Recording begun() {
    Recording recording = journal.record();
    recording.begin(Rehearsals.twoPours().start());
    return recording;
  }

  private static long idOf(Recording recording) {
    return Optional.ofNullable(recording.runs().get(1)).orElseThrow();
  }

  private void assertHolds(long run, int readings) throws IOException {
    Trace trace = journal.trace(run);
    assertThat(trace.size()).isEqualTo(readings);
    for (int i = 0; i < readings; i++) {
      assertThat(trace.nanosAt(i)).isEqualTo(i * 100_000_000L);
      assertThat(trace.nanogramsAt(i))
          .isEqualTo(Mass.ofGrams(Played.twoPours(i / 10.0)).nanograms());
    }
    assertThat(journal.wire(run, Place.WHOLE)).hasSize(readings);
  }

  @Test
  void what_was_persisted_is_there_before_the_end() throws Exception {
    Recording recording = begun();
    weigh(recording, 0, 7);
    recording.lost(STAND, SessionTime.ofMillis(650), "unplugged");
    recording.restored(STAND, SessionTime.ofMillis(700));
    recording.event(1, new PourEvent.PourStarted(1, SessionTime.ZERO, SessionTime.ofMillis(600)));
    recording.persist();
    weigh(recording, 8, 11);
    recording.persist();
    long run = idOf(recording);

    assertThat(journal.trace(run).size()).isEqualTo(10);
    List<Arrival> wire = journal.wire(run, Place.WHOLE);
    assertThat(wire).hasSize(12);
    assertThat(wire.get(7)).isEqualTo(new Arrival.Lost(SessionTime.ofMillis(650), "unplugged"));
    assertThat(wire.get(8)).isEqualTo(new Arrival.Restored(SessionTime.ofMillis(700)));
    assertThat(journal.findRun(run).orElseThrow().entry().state())
        .isEqualTo(RunEntry.State.RECORDING);
    assertThat(journal.listRuns(RunFilter.all().finished())).isEmpty();
  }

  @Test
  void a_full_disk_loses_nothing_and_what_waited_is_written_once_there_is_room() throws Exception {
    Recording recording = begun();
    weigh(recording, 0, 10);
    recording.persist();
    long pages = journal.database().<Long>read(rows -> rows.number("PRAGMA page_count"));
    limitPages(pages);
    for (int i = 1; i < 100; i++) {
      recording.lost(STAND, SessionTime.ofMillis(1000), noise(i));
    }
    weigh(recording, 10, 20);
    assertThatIOException()
        .isThrownBy(recording::persist)
        .withMessageContaining("the disk is full")
        .withMessageContaining(file.toString())
        .withMessageContaining("waits in memory");
    weigh(recording, 20, 30);
    assertThatIOException().isThrownBy(recording::persist);
    assertThat(journal.trace(idOf(recording)).size()).isEqualTo(10);

    limitPages(1_000_000);
    recording.persist();
    assertThat(journal.trace(idOf(recording)).size()).isEqualTo(30);
    assertThat(journal.check()).isEmpty();
  }

  @Test
  void a_run_that_went_elsewhere_comes_back_whole_with_what_was_added_to_its_beginning()
      throws Exception {
    Path elsewhere = Files.createDirectory(folder.resolve("elsewhere"));
    Recording recording = journal.record();
    try (JournalFile other = JournalFile.open(elsewhere, notes::add)) {
      recording.begin(Rehearsals.twoPours().start());
      weigh(recording, 0, 10);
      recording.persist();
      orphan();
      journal.recover(Rehearsals::analyse);
      journal.note(idOf(recording), "the kettle was new");
      weigh(recording, 10, 30);
      recording.moveTo(other);
      assertThat(other.trace(1).size()).isEqualTo(30);
    }

    assertThat(journal.addAllOf(elsewhere.resolve("journal.sqlite"), notes::add))
        .containsExactly(1L);
    assertHolds(1, 30);
    RunEntry entry = journal.findRun(1).orElseThrow().entry();
    assertThat(entry.note()).isEqualTo("the kettle was new");
    assertThat(journal.listRuns(RunFilter.all())).hasSize(1);
    assertThat(journal.addAllOf(elsewhere.resolve("journal.sqlite"), notes::add)).isEmpty();
    assertThat(notes).isEmpty();
  }

  @Test
  void a_run_stays_with_its_journal_when_another_cannot_take_it() throws Exception {
    Recording recording = begun();
    weigh(recording, 0, 10);
    recording.persist();
    JournalFile closed = JournalFile.open(folder.resolve("closed"), notes::add);
    closed.close();
    assertThatIOException().isThrownBy(() -> recording.moveTo(closed));

    weigh(recording, 10, 12);
    recording.persist();
    assertHolds(idOf(recording), 12);
  }

  /** Does not shrink, so that pages are needed. */
  private static String noise(int seed) {
    StringBuilder text = new StringBuilder();
    new SplittableRandom(seed)
        .ints(4000, 33, 1000)
        .forEach(character -> text.append((char) character));
    return text.toString();
  }

  private void limitPages(long pages) throws IOException {
    journal.database().<Long>directly(rows -> rows.number("PRAGMA max_page_count=" + pages));
  }

  @Test
  void a_second_writer_that_does_not_let_go_is_told_and_nothing_is_lost() throws Exception {
    Recording recording = begun();
    weigh(recording, 0, 10);
    recording.persist();
    weigh(recording, 10, 20);
    try (Connection other = DriverManager.getConnection("jdbc:sqlite:" + file);
        Statement statement = other.createStatement()) {
      statement.execute("BEGIN IMMEDIATE");
      assertThatIOException()
          .isThrownBy(recording::persist)
          .withMessageContaining("another program is writing to " + file)
          .withMessageContaining("waits in memory");
      statement.execute("ROLLBACK");
    }
    recording.persist();
    assertHolds(idOf(recording), 20);
  }

  @Test
  void a_journal_that_is_taken_away_in_mid_run_costs_nothing_of_the_run() throws Exception {
    Recording recording = begun();
    weigh(recording, 0, 10);
    recording.persist();
    Files.move(file, folder.resolve("elsewhere.sqlite"));
    weigh(recording, 10, 20);
    recording.persist();

    assertHolds(idOf(recording), 20);
    assertThat(file).exists();
    assertThat(notes).singleElement().asString().contains("taken away");
  }

  @Test
  void a_journal_that_is_damaged_in_mid_run_costs_nothing_of_the_run() throws Exception {
    Recording recording = begun();
    weigh(recording, 0, 10);
    recording.persist();
    journal
        .database()
        .<Integer>directly(rows -> rows.list("PRAGMA wal_checkpoint(TRUNCATE)", row -> 1).size());
    try (FileChannel channel = FileChannel.open(file, StandardOpenOption.WRITE)) {
      long pages = channel.size() / 4096;
      for (int page = 0; page < pages; page++) {
        channel.write(
            ByteBuffer.wrap(
                "no page of a journal any more".repeat(20).getBytes(StandardCharsets.UTF_8)),
            page * 4096L);
      }
    }
    journal
        .database()
        .<Integer>directly(
            rows -> {
              rows.execute("PRAGMA shrink_memory");
              return 1;
            });
    weigh(recording, 10, 20);
    recording.persist();

    assertHolds(idOf(recording), 20);
    assertThat(journal.check()).isEmpty();
    assertThat(notes).anySatisfy(note -> assertThat(note).contains("a new journal is begun"));
    try (Stream<Path> files = Files.list(folder)) {
      assertThat(files)
          .anyMatch(path -> path.getFileName().toString().startsWith("journal-damaged-"));
    }
  }

  // ---- what a dead program leaves behind

  /** As if the program that recorded had died: its process is none that lives. */
  private void orphan() throws IOException {
    journal.write(
        file -> file.update("UPDATE rehearsal SET owner_process = 4194305, owner_since = 1"));
  }

  @Test
  void a_run_that_was_cut_short_is_judged_and_marked() throws Exception {
    Recording recording = begun();
    weigh(recording, 0, 390);
    recording.command(SessionTime.ofMillis(20), new Command.VoidRun());
    recording.command(
        SessionTime.ofMillis(30), new Command.Estimate(1, 2, Mass.ofMilligrams(58_000)));
    recording.command(SessionTime.ofMillis(40), new Command.MarkDrained(1));
    recording.command(SessionTime.ofMillis(50), new Command.MarkDrained(2));
    recording.persist();
    weigh(recording, 390, 400);
    orphan();

    List<RunEntry> recovered = journal.recover(Rehearsals::analyse);
    assertThat(recovered).hasSize(1);
    RunEntry entry = recovered.get(0);
    assertThat(entry.state()).isEqualTo(RunEntry.State.CUT_SHORT);
    assertThat(entry.pours()).isEqualTo(2);
    assertThat(entry.isVoid()).isTrue();
    assertThat(entry.length().toMillis()).isEqualTo(38_900);
    assertHolds(entry.id(), 390);
    KeptRun run = journal.findRun(entry.id()).orElseThrow();
    assertThat(run.estimates()).isEqualTo(Map.of(2, Mass.ofMilligrams(58_000)));
    assertThat(run.seenDry()).containsExactly(SessionTime.ofMillis(40));
    assertThat(run.judgement().orElseThrow().comparison()).isPresent();
    assertThat(journal.recover(Rehearsals::analyse)).isEmpty();
  }

  @Test
  void a_run_that_is_being_recorded_is_left_alone() throws Exception {
    Recording recording = begun();
    weigh(recording, 0, 50);
    recording.persist();

    assertThat(journal.recover(Rehearsals::analyse)).isEmpty();
    assertThat(journal.isRecordedTo()).isFalse();
    weigh(recording, 50, 60);
    recording.persist();
    assertHolds(idOf(recording), 60);
  }

  @Test
  void a_run_that_another_living_program_records_is_seen() throws Exception {
    Recording recording = begun();
    recording.persist();
    Process other = new ProcessBuilder("sleep", "60").start();
    try {
      long since = other.toHandle().info().startInstant().map(Instant::toEpochMilli).orElse(0L);
      journal.write(
          file ->
              file.update(
                  "UPDATE rehearsal SET owner_process = ?, owner_since = ?", other.pid(), since));
      assertThat(journal.isRecordedTo()).isTrue();
      assertThat(journal.recover(Rehearsals::analyse)).isEmpty();
    } finally {
      other.destroyForcibly().waitFor();
    }
    assertThat(journal.isRecordedTo()).isFalse();
  }

  @Test
  void a_rehearsal_of_which_nothing_was_heard_is_no_run() throws Exception {
    begun().persist();
    orphan();
    assertThat(journal.recover(Rehearsals::analyse)).isEmpty();
    assertThat(journal.listRuns(RunFilter.all())).isEmpty();
  }

  @Test
  void bytes_that_were_no_weights_are_kept_though_there_is_nothing_to_judge() throws Exception {
    Recording recording = begun();
    recording.chunk(STAND, new Chunk(SessionTime.ZERO, Bytes.ofAscii("garbage")));
    recording.persist();
    orphan();

    List<RunEntry> recovered = journal.recover(Rehearsals::analyse);
    assertThat(recovered).hasSize(1);
    assertThat(journal.findRun(recovered.get(0).id()).orElseThrow().judgement()).isEmpty();
    assertThat(journal.wire(recovered.get(0).id(), Place.WHOLE)).hasSize(1);
    assertThat(journal.judgeAnew(recovered.get(0).id(), Rehearsals::analyse)).isEmpty();
  }

  @Test
  void the_end_of_a_run_packs_what_was_written_in_parts() throws Exception {
    Recording recording = journal.record();
    Outcome outcome = Rehearsals.twoPours(recording);
    long parts =
        journal
            .database()
            .<Long>read(
                rows ->
                    rows.number("SELECT count(*) FROM raw")
                        + rows.number("SELECT count(*) FROM trace"));
    assertThat(parts).isEqualTo(2);
    assertThat(outcome.lanes()).hasSize(1);
    recording.persist();
    assertThat(journal.listRuns(RunFilter.all())).hasSize(1);
  }
}
