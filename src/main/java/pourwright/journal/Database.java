package pourwright.journal;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.locks.Lock;
import java.util.concurrent.locks.ReentrantLock;
import org.jspecify.annotations.Nullable;
import org.sqlite.SQLiteConfig;
import org.sqlite.SQLiteErrorCode;
import org.sqlite.SQLiteException;

/**
 * One connection to an SQLite file, for one thread at a time.
 *
 * <p>The file is in WAL mode with {@code synchronous=FULL}: when a transaction has been committed
 * the disk has been told to keep it, so it survives a power cut, and one that was not is as if it
 * had never begun.
 */
final class Database implements AutoCloseable {
  /** How long to wait for another program that is writing; own choice. */
  static final int PATIENCE_MILLIS = 4_000;

  /** What SQLite needs beside a file before it can write anything: the index of its log. */
  private static final long LEAST_ROOM_BYTES = 32 << 10;

  private final Path path;
  private final Connection connection;
  private final Lock lock = new ReentrantLock();

  private Database(Path path, Connection connection) {
    this.path = path;
    this.connection = connection;
  }

  /** Something to do with the database. */
  @FunctionalInterface
  interface Work<T> {
    T with(Database database) throws SQLException;
  }

  /** Makes something of the present row. */
  @FunctionalInterface
  interface Row<T> {
    T of(ResultSet row) throws SQLException;
  }

  /**
   * Opens the file, or makes an empty one. Changes nothing in a file that is there.
   *
   * @throws IOException when it cannot be had; {@link DamagedJournal} when it is no database
   */
  static Database open(Path path) throws IOException {
    return connected(path, new SQLiteConfig(), path.toString());
  }

  /**
   * Opens a file in a place where nothing may be written; whatever would change it is refused.
   *
   * @throws IOException when it cannot be had, such as when its log was never merged and nobody who
   *     may write has it open; {@link DamagedJournal} when it is no database
   */
  static Database openToRead(Path path) throws IOException {
    SQLiteConfig config = new SQLiteConfig();
    config.setReadOnly(true);
    Path log = path.resolveSibling(path.getFileName() + "-wal");
    // Beside a log in use SQLite shares its index; without one it would have to make that index.
    boolean isStill = !Files.exists(log) || Files.size(log) == 0;
    return connected(path, config, path.toUri() + (isStill ? "?immutable=1" : "?mode=ro"));
  }

  private static Database connected(Path path, SQLiteConfig config, String name)
      throws IOException {
    config.setBusyTimeout(PATIENCE_MILLIS);
    config.enforceForeignKeys(true);
    try {
      Connection connection = config.createConnection("jdbc:sqlite:" + name);
      Database database = new Database(path, connection);
      try {
        database.execute("PRAGMA synchronous=FULL");
        // Some systems flush only as far as the memory of the disk unless they are asked like this.
        database.execute("PRAGMA fullfsync=1");
        return database;
      } catch (SQLException | RuntimeException failed) {
        connection.close();
        throw failed;
      }
    } catch (SQLException failed) {
      throw explained(path, failed);
    }
  }

  Path path() {
    return path;
  }

  /** Lets others read while this one writes, and makes commits cheap. */
  void useWriteAheadLog() throws IOException {
    directly(
        file -> {
          file.execute("PRAGMA journal_mode=WAL");
          return true;
        });
  }

  /** Reads; what is read belongs together even while another program writes. */
  <T> T read(Work<T> work) throws IOException {
    return transact("BEGIN", work);
  }

  /** Writes all of it or nothing. */
  <T> T write(Work<T> work) throws IOException {
    return transact("BEGIN IMMEDIATE", work);
  }

  private <T> T transact(String begin, Work<T> work) throws IOException {
    lock.lock();
    try {
      boolean isDone = false;
      execute(begin);
      try {
        T result = work.with(this);
        execute("COMMIT");
        isDone = true;
        return result;
      } finally {
        if (!isDone) {
          rollBack();
        }
      }
    } catch (SQLException failed) {
      throw explained(path, failed);
    } finally {
      lock.unlock();
    }
  }

  /** Outside of any transaction. */
  <T> T directly(Work<T> work) throws IOException {
    lock.lock();
    try {
      return work.with(this);
    } catch (SQLException failed) {
      throw explained(path, failed);
    } finally {
      lock.unlock();
    }
  }

  private void rollBack() {
    try {
      execute("ROLLBACK");
    } catch (SQLException alreadyDone) {
      // Some failures, such as a full disk, roll back by themselves.
    }
  }

  void execute(String sql) throws SQLException {
    try (Statement statement = connection.createStatement()) {
      statement.execute(sql);
    }
  }

  /** Changes rows; how many. */
  int update(String sql, @Nullable Object... values) throws SQLException {
    try (PreparedStatement statement = prepared(sql, values)) {
      return statement.executeUpdate();
    }
  }

  /** Adds a row; its id. */
  long insert(String sql, @Nullable Object... values) throws SQLException {
    update(sql, values);
    return number("SELECT last_insert_rowid()");
  }

  <T> List<T> list(String sql, Row<T> row, @Nullable Object... values) throws SQLException {
    List<T> found = new ArrayList<>();
    try (PreparedStatement statement = prepared(sql, values);
        ResultSet rows = statement.executeQuery()) {
      while (rows.next()) {
        found.add(row.of(rows));
      }
    }
    return found;
  }

  <T> Optional<T> find(String sql, Row<T> row, @Nullable Object... values) throws SQLException {
    return list(sql, row, values).stream().findFirst();
  }

  long number(String sql, @Nullable Object... values) throws SQLException {
    return find(sql, row -> row.getLong(1), values).orElse(0L);
  }

  private PreparedStatement prepared(String sql, @Nullable Object... values) throws SQLException {
    PreparedStatement statement = connection.prepareStatement(sql);
    try {
      for (int i = 0; i < values.length; i++) {
        statement.setObject(i + 1, values[i]);
      }
      return statement;
    } catch (SQLException | RuntimeException failed) {
      statement.close();
      throw failed;
    }
  }

  /** What went wrong, in words for the brewer. */
  static IOException explained(Path path, SQLException failed) {
    if (failed instanceof NoSuchRun) {
      return new IOException(failed.getMessage(), failed);
    }
    SQLiteErrorCode code =
        failed instanceof SQLiteException known
            ? known.getResultCode()
            : SQLiteErrorCode.UNKNOWN_ERROR;
    String reason = String.valueOf(failed.getMessage()).toLowerCase(Locale.ROOT);
    if (isForWantOfRoom(path, code)) {
      return new IOException("the disk is full (" + path + "); make room there", failed);
    }
    return switch (code.code & 0xff) {
      case 5, 6 -> // SQLITE_BUSY, SQLITE_LOCKED
          new IOException(
              "another program is writing to "
                  + path
                  + " and does not let go; end it, or try again in a moment",
              failed);
      case 11, 26 -> // SQLITE_CORRUPT, SQLITE_NOTADB
          new DamagedJournal(path + " is damaged", failed);
      case 3, 8, 14 -> // SQLITE_PERM, SQLITE_READONLY, SQLITE_CANTOPEN
          new IOException(
              path + " must not be written to; name another folder with --data", failed);
      case 10 -> // SQLITE_IOERR
          new IOException(
              "the disk refused to read or write " + path + " (" + reason + ")", failed);
      default -> new IOException(path + " could not be read or written (" + reason + ")", failed);
    };
  }

  /**
   * SQLite says so itself only of some writes; of others, such as those to the index of its log, it
   * says no more than that they failed.
   */
  private static boolean isForWantOfRoom(Path path, SQLiteErrorCode code) {
    int kind = code.code & 0xff;
    if (kind == 10 || kind == 14) { // SQLITE_IOERR, SQLITE_CANTOPEN
      try {
        return Files.getFileStore(path.resolveSibling(".")).getUsableSpace() < LEAST_ROOM_BYTES;
      } catch (IOException unknown) {
        return false;
      }
    }
    return kind == 13; // SQLITE_FULL
  }

  @Override
  public void close() {
    lock.lock();
    try {
      connection.close();
    } catch (SQLException failed) {
      // Everything that was committed is safe; what remains is merged when it is opened again.
    } finally {
      lock.unlock();
    }
  }
}
