package pourwright.journal;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.BasicFileAttributes;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.NoSuchElementException;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;
import pourwright.detect.Curve;
import pourwright.device.Transport.Arrival;
import pourwright.recording.Trace;
import pourwright.rig.Place;
import pourwright.session.RunStart;
import pourwright.units.Mass;

/**
 * The journal: one SQLite file that holds every run.
 *
 * <p>Several programs may have it open at once. What was committed survives a power cut; a run that
 * is being recorded is committed twice a second, so at most the last second of it is lost.
 *
 * <p>Every method that touches the file throws {@link IOException} with one plain sentence for the
 * brewer. For any thread.
 */
public final class JournalFile implements AutoCloseable {
  private final JournalPlace place;
  private final Consumer<String> notes;
  private final boolean isForReadingOnly;
  private Database database;
  private @Nullable Object fileKey;

  private JournalFile(JournalPlace place, Consumer<String> notes, boolean isForReadingOnly)
      throws IOException {
    this.place = place;
    this.notes = notes;
    this.isForReadingOnly = isForReadingOnly;
    this.database = isForReadingOnly ? place.openToRead() : place.open();
    this.fileKey = keyOf(place.path());
  }

  /**
   * Opens the journal in {@code folder}; makes both where they are missing. A file that is damaged,
   * empty, of a newer version or no journal at all gets another name and is never written to.
   *
   * @param notes takes sentences about what was done to get there
   */
  public static JournalFile open(Path folder, Consumer<String> notes) throws IOException {
    return new JournalFile(new JournalPlace(folder, Schema.newest(), notes), notes, false);
  }

  /**
   * As {@link #open}, but a journal that may not be written to is opened all the same; whatever
   * would change it is refused with a sentence.
   */
  public static JournalFile openToLook(Path folder, Consumer<String> notes) throws IOException {
    JournalPlace place = new JournalPlace(folder, Schema.newest(), notes);
    return new JournalFile(place, notes, place.isForReadingOnly());
  }

  public Path path() {
    return place.path();
  }

  /**
   * Takes in every run of another journal that can be read, whatever lies around it: a backup, one
   * of another machine, one that was set aside.
   *
   * @param refused takes a sentence for each run that cannot be read
   * @return ids of the runs that were not here before
   */
  public List<Long> addAllOf(Path other, Consumer<String> refused) throws IOException {
    List<Long> added = new ArrayList<>();
    Schema schema = Schema.newest();
    try (Database file = Database.open(other)) {
      if (file.directly(schema::fit) != Schema.Fit.FITS) {
        throw new IOException(
            other + " is no journal of this version; open it with the program that made it");
      }
      for (long id :
          file.directly(rows -> rows.list("SELECT id FROM run", row -> row.getLong(1)))) {
        try {
          Optional<WholeRun> run = read(file, rows -> rows.findWhole(id));
          if (run.isPresent()) {
            add(run.get()).ifPresent(added::add);
          }
        } catch (DamagedJournal | UnreadableRun unreadable) {
          refused.accept("run " + id + " of " + other + " cannot be read any more");
        }
      }
    }
    return added;
  }

  // ---- looking

  /** The newest first. */
  public List<RunEntry> listRuns(RunFilter filter) throws IOException {
    return read(rows -> rows.listEntries(filter));
  }

  /** Whole runs, the oldest first; read one after the other, they belong together. */
  public List<KeptRun> listKept(RunFilter filter) throws IOException {
    return read(rows -> rows.listRuns(filter));
  }

  /** A run, deleted or not. */
  public Optional<KeptRun> findRun(long id) throws IOException {
    return read(rows -> rows.findRun(id));
  }

  /** Every judgement of a run, the oldest first; the last one counts. */
  public List<Judgement> listJudgements(long id) throws IOException {
    return read(rows -> rows.listJudgements(id));
  }

  /** Everything weighed in a run, in order of time; empty for a run that there is not. */
  public Trace trace(long id) throws IOException {
    return read(rows -> rows.trace(id));
  }

  /** What was weighed, by place, in the order of the rig's places that were heard. */
  public List<Curve> curves(long id) throws IOException {
    return curves(trace(id), List.of(Place.values())).stream()
        .filter(curve -> curve.size() > 0)
        .toList();
  }

  /** What came over the wire of one scale, as it came. */
  public List<Arrival> wire(long id, Place where) throws IOException {
    return read(rows -> rows.wire(id, where));
  }

  /** What tells this rehearsal from every other, in every copy of it. */
  public Optional<String> findKey(long run) throws IOException {
    return database()
        .read(
            file ->
                file.find(
                    "SELECT key FROM rehearsal WHERE id = (SELECT rehearsal FROM run WHERE id = ?)",
                    row -> row.getString(1),
                    run));
  }

  /** Whether the rehearsal of this key is in the journal. */
  public boolean holds(String key) throws IOException {
    return database()
        .read(file -> file.number("SELECT count(*) FROM rehearsal WHERE key = ?", key) > 0);
  }

  /**
   * How many runs a brewer has made under fading feedback; void and deleted ones do not count.
   *
   * @param isSimulated whether to count simulated ones instead of real ones
   */
  public int countFaded(String brewer, boolean isSimulated) throws IOException {
    return Math.toIntExact(
        database()
            .read(
                file ->
                    file.number(
                        "SELECT count(*) FROM run JOIN rehearsal ON rehearsal.id = run.rehearsal"
                            + " WHERE feedback = 'faded' AND ended IS NOT NULL AND is_void = 0"
                            + " AND deleted_at IS NULL AND brewer = ? AND is_simulated = ?",
                        brewer,
                        isSimulated ? 1 : 0)));
  }

  /** A run with everything that belongs to it, deleted or not. */
  public Optional<WholeRun> findWhole(long id) throws IOException {
    return read(rows -> rows.findWhole(id));
  }

  /**
   * Takes in a run from elsewhere.
   *
   * @return its id here; empty when it was here already
   */
  public Optional<Long> add(WholeRun whole) throws IOException {
    return write(file -> Optional.ofNullable(Incoming.add(file, whole)));
  }

  // ---- recording

  /** A new rehearsal that will be kept here. */
  public Recording record() {
    return record(UUID.randomUUID().toString());
  }

  /**
   * A rehearsal that has been kept elsewhere before.
   *
   * @param key see {@link #findKey}
   */
  public Recording record(String key) {
    return new Recording(this, key, notes);
  }

  /**
   * Judges the runs whose recording was cut short, by whatever: the program that recorded them is
   * gone. They are marked as cut short. In a journal that may not be written to they stay as they
   * are.
   *
   * @return what was found, the oldest first
   */
  public List<RunEntry> recover(Analyst analyst) throws IOException {
    List<RunEntry> found = new ArrayList<>();
    if (isForReadingOnly) {
      return found;
    }
    for (long rehearsal : listOrphans()) {
      found.addAll(new Recovery(this, rehearsal, analyst).run());
    }
    return found;
  }

  private List<Long> listOrphans() throws IOException {
    List<Long> orphans = new ArrayList<>();
    database()
        .read(
            file ->
                file.list(
                    "SELECT id, owner_process, owner_since FROM rehearsal WHERE ended IS NULL"
                        + " ORDER BY id",
                    row -> {
                      if (!new Owner(row.getLong(2), row.getLong(3)).isAlive()) {
                        orphans.add(row.getLong(1));
                      }
                      return orphans;
                    }));
    return orphans;
  }

  /** Whether another program records into this journal now. */
  public boolean isRecordedTo() throws IOException {
    Owner self = Owner.self();
    List<Boolean> others =
        database()
            .read(
                file ->
                    file.list(
                        "SELECT owner_process, owner_since FROM rehearsal WHERE ended IS NULL",
                        row -> {
                          Owner owner = new Owner(row.getLong(1), row.getLong(2));
                          return !owner.equals(self) && owner.isAlive();
                        }));
    return others.contains(true);
  }

  /** When the newest run began, as the clock of the computer said. */
  public Optional<Instant> findLastStart() throws IOException {
    return database()
        .read(
            file ->
                file.find(
                    "SELECT started_at FROM rehearsal ORDER BY id DESC LIMIT 1",
                    row -> Instant.ofEpochMilli(row.getLong(1))));
  }

  // ---- what the brewer adds

  /**
   * Adds a strength reading to a run.
   *
   * @return its id
   */
  public long addStrength(long run, StrengthReading reading) throws IOException {
    return change(run, file -> RunWriter.strength(file, run, reading));
  }

  public void removeStrength(long strength) throws IOException {
    database().write(file -> file.update("DELETE FROM strength WHERE id = ?", strength));
  }

  /**
   * Adds a tasting to a run.
   *
   * @return its id
   */
  public long addTasting(long run, Tasting tasting) throws IOException {
    return change(run, file -> RunWriter.tasting(file, run, tasting));
  }

  public void removeTasting(long tasting) throws IOException {
    database().write(file -> file.update("DELETE FROM tasting WHERE id = ?", tasting));
  }

  /** Replaces the note of a run. */
  public void note(long run, String text) throws IOException {
    change(run, file -> file.update("UPDATE run SET note = ? WHERE id = ?", text, run));
  }

  /**
   * What the brewer believes to have poured; replaces an earlier estimate.
   *
   * @param pour from 1
   */
  public void estimate(long run, int pour, Mass poured) throws IOException {
    change(
        run,
        file -> {
          RunWriter.estimate(file, run, pour, poured);
          return true;
        });
  }

  /** Whether a run does not count. */
  public void setVoid(long run, boolean isVoid) throws IOException {
    change(
        run, file -> file.update("UPDATE run SET is_void = ? WHERE id = ?", isVoid ? 1 : 0, run));
  }

  /** Puts a run out of sight; {@link #restore} brings it back whole. */
  public void delete(long run) throws IOException {
    change(
        run,
        file ->
            file.update(
                "UPDATE run SET deleted_at = ifnull(deleted_at, ?) WHERE id = ?",
                Instant.now().toEpochMilli(),
                run));
  }

  /** Undoes {@link #delete}. */
  public void restore(long run) throws IOException {
    change(run, file -> file.update("UPDATE run SET deleted_at = NULL WHERE id = ?", run));
  }

  private <T> T change(long run, Database.Work<T> work) throws IOException {
    return database()
        .write(
            file -> {
              if (file.number("SELECT count(*) FROM run WHERE id = ?", run) == 0) {
                throw new NoSuchRun(run);
              }
              return work.with(file);
            });
  }

  // ---- looking after it

  /**
   * Judges a run anew, with this version of the detector; older judgements stay.
   *
   * @return the new judgement; empty when the run has no weights
   */
  public Optional<Judgement> judgeAnew(long id, Analyst analyst) throws IOException {
    KeptRun run = findRun(id).orElseThrow(() -> new IOException(NoSuchRun.sentence(id)));
    Trace trace = trace(id);
    if (trace.size() == 0) {
      return Optional.empty();
    }
    Analyst.Found found =
        analyst.analyse(
            run.entry().rig(),
            run.plan().map(RunStart.WrittenPlan::plan),
            run.scales(),
            curves(trace, run.entry().rig().places()));
    change(
        id,
        file -> {
          JudgementRows.add(file, id, found.analysis(), found.comparison());
          return true;
        });
    List<Judgement> all = listJudgements(id);
    return Optional.of(all.get(all.size() - 1));
  }

  /**
   * Writes a whole copy of the journal, also while runs are being recorded.
   *
   * @param target must not exist yet
   */
  public void backUp(Path target) throws IOException {
    if (Files.exists(target)) {
      throw new IOException(target + " exists already; a backup never replaces a file");
    }
    @Nullable Path parent = target.toAbsolutePath().getParent();
    if (parent == null || !Files.isDirectory(parent)) {
      throw new IOException(target + " cannot be written: there is no such folder");
    }
    Path draft = target.resolveSibling(target.getFileName() + ".part");
    Files.deleteIfExists(draft);
    Files.createFile(draft); // tells what is wrong with the place; SQLite would not
    try {
      database().directly(file -> file.update("VACUUM INTO ?", draft.toString()));
      Files.move(draft, target);
    } finally {
      Files.deleteIfExists(draft);
    }
  }

  /** What is wrong with the file; empty when nothing is. */
  public List<String> check() throws IOException {
    List<String> found =
        database().directly(file -> file.list("PRAGMA integrity_check", row -> row.getString(1)));
    List<String> orphaned =
        database().directly(file -> file.list("PRAGMA foreign_key_check", row -> row.getString(1)));
    List<String> all = new ArrayList<>(found.equals(List.of("ok")) ? List.of() : found);
    orphaned.forEach(table -> all.add("a row of " + table + " belongs to nothing"));
    return all;
  }

  // ---- for this package

  private interface Look<T> {
    T at(RunRows rows) throws SQLException;
  }

  private <T> T read(Look<T> look) throws IOException {
    return read(database(), look);
  }

  private static <T> T read(Database database, Look<T> look) throws IOException {
    try {
      return database.read(file -> look.at(new RunRows(file)));
    } catch (IllegalArgumentException | NoSuchElementException | UncheckedIOException wrong) {
      throw new UnreadableRun(
          "what is kept of a run in "
              + database.path()
              + " is not readable any more; `pourwright runs check` looks through the journal",
          wrong);
    }
  }

  <T> T write(Database.Work<T> work) throws IOException {
    return database().write(work);
  }

  synchronized Database database() {
    return database;
  }

  /** Whether the file is still the one that was opened. */
  synchronized boolean isThere() {
    try {
      @Nullable Object now = keyOf(place.path());
      return fileKey == null ? Files.exists(place.path()) : fileKey.equals(now);
    } catch (IOException gone) {
      return false;
    }
  }

  /** Gives the file another name and goes on with a new one. */
  synchronized void openAnew(String why) throws IOException {
    database.close();
    database = place.openAnew(why);
    fileKey = keyOf(place.path());
  }

  private static @Nullable Object keyOf(Path path) throws IOException {
    return Files.readAttributes(path, BasicFileAttributes.class).fileKey();
  }

  /** One curve for each place, empty where nothing was heard. */
  static List<Curve> curves(Trace trace, List<Place> places) {
    Map<Place, Curve> curves = new EnumMap<>(Place.class);
    for (int i = 0; i < trace.size(); i++) {
      curves
          .computeIfAbsent(trace.placeAt(i), Curve::new)
          .add(trace.nanosAt(i), trace.nanogramsAt(i));
    }
    return places.stream()
        .map(where -> Optional.ofNullable(curves.get(where)).orElseGet(() -> new Curve(where)))
        .toList();
  }

  @Override
  public synchronized void close() {
    database.close();
  }
}
