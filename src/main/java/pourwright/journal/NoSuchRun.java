package pourwright.journal;

import java.sql.SQLException;

/** A run was named that is not in the journal. */
final class NoSuchRun extends SQLException {
  private static final long serialVersionUID = 1L;

  NoSuchRun(long run) {
    super(sentence(run));
  }

  static String sentence(long run) {
    return "there is no run "
        + run
        + " in the journal; `pourwright runs list` shows those there are";
  }
}
