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

  /** Adds what was found just now, which counts from now on; older judgements stay. */
  static void add(Database database, long run, Analysis analysis, Optional<Comparison> comparison)
      throws SQLException {
    add(
        database,
        run,
        new Judgement(
            Analysis.VERSION,
            Instant.now(),
            analysis.announced(),
            analysis.findings(),
            comparison));
  }

  /** Adds a judgement, which counts from now on; older ones stay. */
  static void add(Database database, long run, Judgement judgement) throws SQLException {
    Optional<Comparison> comparison = judgement.comparison();
    @Nullable Long planned = comparison.map(JudgementRows::planned).orElse(null);
    @Nullable Long inside = comparison.map(JudgementRows::inside).orElse(null);
    long id =
        database.insert(
            "INSERT INTO judgement (run, detector, made_at, announced, findings, comparison,"
                + " pours, planned, inside, deviation_index) VALUES (?,?,?,?,?,?,?,?,?,?)",
            run,
            judgement.detector(),
            judgement.madeAt().toEpochMilli(),
            JudgementJson.writeEvents(judgement.announced()),
            JudgementJson.write(judgement.findings()),
            comparison.map(JudgementJson::write).orElse(null),
            judgement.findings().pours().size(),
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
