package pourwright.journal;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * The shape of the journal and how an older one is brought up to it.
 *
 * <p>The steps are numbered scripts beside this class; SQLite's own {@code user_version} says how
 * many of them a file has had, and changes with them in one transaction, so a step is either done
 * or was never begun.
 */
final class Schema {
  /** Tells a journal from any other SQLite file: "Pour" in ASCII. */
  static final int APPLICATION = 0x506f7572;

  private static final String SCRIPT = "/pourwright/journal/%d.sql";

  private final List<String> scripts;

  Schema(List<String> scripts) {
    this.scripts = List.copyOf(scripts);
  }

  /** The shape this program works with. */
  static Schema newest() throws IOException {
    List<String> scripts = new ArrayList<>();
    while (true) {
      try (@Nullable InputStream in =
          Schema.class.getResourceAsStream(SCRIPT.formatted(scripts.size() + 1))) {
        if (in == null) {
          return new Schema(scripts);
        }
        scripts.add(new String(in.readAllBytes(), StandardCharsets.UTF_8));
      }
    }
  }

  int version() {
    return scripts.size();
  }

  /** What a file is to this program. */
  enum Fit {
    /** It has the shape of {@link #newest}. */
    FITS,
    /** It can be brought up to it. */
    OLDER,
    /** A newer program made it. */
    NEWER,
    /** It is an SQLite file of something else. */
    FOREIGN
  }

  Fit fit(Database database) throws SQLException {
    long version = database.number("PRAGMA user_version");
    if (database.number("PRAGMA application_id") != APPLICATION) {
      return Fit.FOREIGN;
    }
    if (version > version()) {
      return Fit.NEWER;
    }
    return version == version() ? Fit.FITS : Fit.OLDER;
  }

  /** Makes an empty file a journal. */
  void create(Database database) throws IOException {
    database.write(
        empty -> {
          run(empty, 0);
          empty.execute("PRAGMA application_id=" + APPLICATION);
          return true;
        });
  }

  /**
   * Brings an older journal up to date.
   *
   * @param copy where the journal is kept as it was; must not exist yet
   */
  void update(Database database, Path copy) throws IOException {
    database.directly(old -> old.update("VACUUM INTO ?", copy.toString()));
    database.write(
        old -> {
          run(old, Math.toIntExact(old.number("PRAGMA user_version")));
          return true;
        });
  }

  private void run(Database database, int done) throws SQLException {
    for (String script : scripts.subList(done, scripts.size())) {
      for (String statement : statements(script)) {
        database.execute(statement);
      }
    }
    database.execute("PRAGMA user_version=" + version());
  }

  /** A script without its comments, cut at the semicolons that end a line. */
  private static List<String> statements(String script) {
    String bare = script.replaceAll("(?m)--.*$", "");
    List<String> statements = new ArrayList<>();
    for (String statement : bare.split(";\\s*\\n", -1)) {
      if (!statement.isBlank()) {
        statements.add(statement.strip());
      }
    }
    return statements;
  }
}
