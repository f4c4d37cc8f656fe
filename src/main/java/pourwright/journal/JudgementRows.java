package pourwright.journal;

import java.sql.SQLException;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import pourwright.compare.Comparison;
import pourwright.compare.Verdict;
import pourwright.detect.Analysis;

/** Puts judgements into the tables. */
final class JudgementRows {
  private JudgementRows() {}

  /** Adds a judgement, which is the one that counts from now on; older ones stay. */
  static void add(Database database, long run, Analysis analysis, Optional<Comparison> comparison)
      throws SQLException {
    @Nullable Long planned = comparison.map(JudgementRows::planned).orElse(null);
    @Nullable Long inside = comparison.map(JudgementRows::inside).orElse(null);
    long id =
        database.insert(
            "INSERT INTO judgement (run, detector, made_at, announced, findings, comparison,"
                + " pours, planned, inside, deviation_index) VALUES (?,?,?,?,?,?,?,?,?,?)",
            run,
            Analysis.VERSION,
            Instant.now().toEpochMilli(),
            JudgementJson.writeEvents(analysis.announced()),
            JudgementJson.write(analysis.findings()),
            comparison.map(JudgementJson::write).orElse(null),
            analysis.findings().pours().size(),
            planned,
            inside,
            comparison.map(Comparison::deviationIndex).orElse(null));
    database.update("UPDATE run SET judgement = ? WHERE id = ?", id, run);
  }

  private static long planned(Comparison comparison) {
    return plannedLines(comparison).size();
  }

  private static long inside(Comparison comparison) {
    return plannedLines(comparison).stream()
        .filter(pour -> pour.verdict() == Verdict.INSIDE)
        .count();
  }

  private static List<Comparison.JudgedPour> plannedLines(Comparison comparison) {
    return comparison.pours().stream().filter(pour -> pour.planned().isPresent()).toList();
  }
}
