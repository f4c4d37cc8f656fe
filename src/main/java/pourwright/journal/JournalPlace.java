package pourwright.journal;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.sql.SQLException;
import java.time.LocalDateTime;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;

/**
 * Where the journal lies. Opens it, makes it when there is none, brings an old one up to date, and
 * gives a file that is no journal of this program another name, so that it is never overwritten.
 *
 * <p>A new journal is made whole under another name first, so whoever looks sees either none or a
 * whole one; and whoever makes one or sets one aside holds a lock on the file {@code .journal.lock}
 * beside it, so that two programs never do so at once.
 */
final class JournalPlace {
  static final String NAME = "journal.sqlite";

  private static final String LOCK = ".journal.lock";

  /**
   * Up to this size a file is looked through when it is opened, which takes less than a quarter of
   * a second; a larger one only where it is used.
   */
  private static final long LOOKED_THROUGH_BYTES = 32L << 20;

  private static final DateTimeFormatter STAMP =
      DateTimeFormatter.ofPattern("uuuu-MM-dd_HH.mm.ss", Locale.ROOT);

  /** What SQLite keeps beside a file. */
  private static final List<String> COMPANIONS = List.of("-wal", "-shm", "-journal");

  /** File locks are those of the whole program, so threads of it need one of their own. */
  private static final Object OWN_LOCK = new Object();

  private final Path folder;
  private final Schema schema;
  private final Consumer<String> notes;

  JournalPlace(Path folder, Schema schema, Consumer<String> notes) {
    this.folder = folder;
    this.schema = schema;
    this.notes = notes;
  }

  Path path() {
    return folder.resolve(NAME);
  }

  Path folder() {
    return folder;
  }

  /**
   * The journal, ready for use.
   *
   * @throws IOException when there can be none
   */
  Database open() throws IOException {
    try {
      Files.createDirectories(folder);
      Optional<Database> ready = findReady();
      return ready.isPresent() ? ready.get() : locked(this::make);
    } catch (AccessDeniedException denied) {
      throw new IOException(
          "the journal cannot be kept in "
              + folder
              + ": it must not be written to; name another folder with --data",
          denied);
    } catch (FileAlreadyExistsException inTheWay) {
      throw new IOException(
          "the journal cannot be kept in "
              + folder
              + ": a file of that name is in the way; name another folder with --data",
          inTheWay);
    }
  }

  /** Whether a journal lies here of which nothing may be changed. */
  boolean isForReadingOnly() {
    return Files.isReadable(path()) && !(Files.isWritable(path()) && Files.isWritable(folder));
  }

  /**
   * The journal as it lies here, to be looked at only.
   *
   * @throws IOException when it is none of this version
   */
  Database openToRead() throws IOException {
    Database database = Database.openToRead(path());
    boolean fits = false;
    try {
      fits = database.directly(schema::fit) == Schema.Fit.FITS;
    } finally {
      if (!fits) {
        database.close();
      }
    }
    if (!fits) {
      throw new IOException(
          path()
              + " is no journal of this version and must not be written to;"
              + " copy it to a folder of yours, and name that with --data");
    }
    return database;
  }

  /** Gives the present file another name and begins a new one. */
  Database openAnew(String why) throws IOException {
    return locked(
        () -> {
          setAside("damaged", why);
          return make();
        });
  }

  /** Under the lock, whatever another program has done until then. */
  private Database make() throws IOException {
    while (true) {
      if (!Files.exists(path())) {
        create();
      }
      Optional<Database> ready = findReady();
      if (ready.isPresent()) {
        return ready.get();
      }
      repair();
    }
  }

  /** The journal as it lies there, if it is one and up to date. */
  private Optional<Database> findReady() throws IOException {
    if (!Files.exists(path()) || Files.size(path()) == 0) {
      return Optional.empty();
    }
    @Nullable Database database = null;
    try {
      database = Database.open(path());
      if (isSound(database) && database.directly(schema::fit) == Schema.Fit.FITS) {
        database.useWriteAheadLog();
        Database ready = database;
        database = null;
        return Optional.of(ready);
      }
      return Optional.empty();
    } catch (DamagedJournal damaged) {
      return Optional.empty();
    } finally {
      if (database != null) {
        database.close();
      }
    }
  }

  /** Deals with a file that is not ready. */
  private void repair() throws IOException {
    if (Files.size(path()) == 0) {
      setAside("empty", path() + " is empty");
      return;
    }
    Schema.Fit fit;
    try (Database database = Database.open(path())) {
      if (!isSound(database)) {
        throw new DamagedJournal(path() + " is damaged", new SQLException("integrity check"));
      }
      fit = database.directly(schema::fit);
      if (fit == Schema.Fit.OLDER) {
        Path copy = free("before-update");
        schema.update(database, copy);
        notes.accept("the journal was brought up to date; as it was before it is kept in " + copy);
      }
    } catch (DamagedJournal damaged) {
      setAside("damaged", String.valueOf(damaged.getMessage()));
      return;
    }
    if (fit == Schema.Fit.NEWER) {
      setAside("newer", path() + " was made by a newer version of this program, which can read it");
    } else if (fit == Schema.Fit.FOREIGN) {
      setAside("foreign", path() + " is no journal of this program");
    }
  }

  private boolean isSound(Database database) throws IOException {
    if (Files.size(path()) > LOOKED_THROUGH_BYTES) {
      return true;
    }
    return database.directly(
        file ->
            file.find("PRAGMA quick_check(1)", row -> row.getString(1)).equals(Optional.of("ok")));
  }

  private void create() throws IOException {
    setCompanionsAside(free("leftover"));
    Path draft = folder.resolve(NAME + ".new");
    delete(draft);
    try (Database database = Database.open(draft)) {
      database.useWriteAheadLog();
      schema.create(database);
    }
    Files.move(draft, path());
  }

  private static void delete(Path file) throws IOException {
    Files.deleteIfExists(file);
    for (String end : COMPANIONS) {
      Files.deleteIfExists(file.resolveSibling(file.getFileName() + end));
    }
  }

  private void setAside(String kind, String why) throws IOException {
    Path aside = free(kind);
    boolean isThere = Files.exists(path());
    if (isThere) {
      Files.move(path(), aside);
    }
    setCompanionsAside(aside);
    notes.accept(
        isThere
            ? why + "; it is kept as " + aside.getFileName() + " and a new journal is begun"
            : why + "; a new journal is begun in " + folder);
  }

  /** What lies beside a journal belongs to that one; a new one would take it for its own. */
  private void setCompanionsAside(Path aside) throws IOException {
    for (String end : COMPANIONS) {
      Path companion = path().resolveSibling(NAME + end);
      if (Files.exists(companion)) {
        Files.move(companion, aside.resolveSibling(aside.getFileName() + end));
      }
    }
  }

  /** A name beside the journal that nothing has yet. */
  private Path free(String kind) {
    String stem = "journal-" + kind + "-" + STAMP.format(LocalDateTime.now(ZoneId.systemDefault()));
    Path path = folder.resolve(stem + ".sqlite");
    for (int namesake = 2; Files.exists(path); namesake++) {
      path = folder.resolve(stem + "-" + namesake + ".sqlite");
    }
    return path;
  }

  private interface Careful<T> {
    T act() throws IOException;
  }

  private <T> T locked(Careful<T> careful) throws IOException {
    synchronized (OWN_LOCK) {
      try (FileChannel channel =
              FileChannel.open(
                  folder.resolve(LOCK), StandardOpenOption.CREATE, StandardOpenOption.WRITE);
          FileLock held = channel.lock()) {
        if (!held.isValid()) {
          throw new IOException("the journal in " + folder + " could not be locked");
        }
        return careful.act();
      }
    }
  }
}
