package pourwright.cli;

import java.time.LocalDate;
import java.time.ZoneId;
import java.util.Optional;
import pourwright.coach.Feedback;
import pourwright.journal.RunFilter;

/**
 * Which kept runs are wanted.
 *
 * @param title of the plan
 * @param from first day
 * @param until last day
 * @param text anywhere in title, brewer or note
 */
record RunQuery(
    Optional<String> title,
    Optional<String> brewer,
    Optional<Feedback> feedback,
    Optional<LocalDate> from,
    Optional<LocalDate> until,
    Optional<String> text) {
  static final RunQuery ALL =
      new RunQuery(
          Optional.empty(),
          Optional.empty(),
          Optional.empty(),
          Optional.empty(),
          Optional.empty(),
          Optional.empty());

  /**
   * The same for the journal.
   *
   * @param among which runs it is to choose
   * @param zone in which days begin
   */
  RunFilter filter(RunFilter among, ZoneId zone) {
    RunFilter filter = among;
    if (title.isPresent()) {
      filter = filter.titled(title.get());
    }
    if (brewer.isPresent()) {
      filter = filter.brewedBy(brewer.get());
    }
    if (feedback.isPresent()) {
      filter = filter.fed(feedback.get());
    }
    if (from.isPresent()) {
      filter = filter.from(from.get().atStartOfDay(zone).toInstant());
    }
    if (until.isPresent()) {
      filter = filter.until(until.get().plusDays(1).atStartOfDay(zone).toInstant());
    }
    if (text.isPresent()) {
      filter = filter.matching(text.get());
    }
    return filter;
  }

  /** Those of them that are over. */
  RunFilter finished(ZoneId zone) {
    return filter(RunFilter.all().finished(), zone);
  }

  /** The same runs, of another plan. */
  RunQuery titled(String other) {
    return new RunQuery(Optional.of(other), brewer, feedback, from, until, text);
  }
}
