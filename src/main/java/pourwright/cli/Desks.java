package pourwright.cli;

import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import pourwright.builder.PlanDesk;
import pourwright.history.ScaleHistory;
import pourwright.journal.JournalFile;
import pourwright.web.Desk;

/** What answers for the pages beside the rehearsal's; a page that is added adds its line here. */
final class Desks {
  private Desks() {}

  /** All desks; those that look into the journal look into this one. */
  static List<Desk> of(JournalFile journal) {
    return of(
        journal,
        new CheckDesk(
            new ScaleHistory(journal.path().resolveSibling("scales")),
            ZoneId.systemDefault(),
            System::nanoTime));
  }

  /** All desks, with that of a check under way. */
  static List<Desk> of(JournalFile journal, CheckDesk check) {
    return List.of(
        new ReviewDesk(journal, ZoneId.systemDefault()),
        new PlanDesk(
            journal.path().resolveSibling("plans"),
            (title, areSimulated) -> PastRuns.of(journal, title, areSimulated)),
        check);
  }

  /** The same, with the stage of a routine. */
  static List<Desk> with(JournalFile journal, StageDesk stage) {
    List<Desk> desks = new ArrayList<>(of(journal));
    desks.add(stage);
    return desks;
  }
}
