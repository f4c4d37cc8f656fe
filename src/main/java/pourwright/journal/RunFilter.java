package pourwright.journal;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalInt;
import java.util.stream.Stream;
import pourwright.coach.Feedback;

/** Which runs are wanted. Begin with {@link #all} and narrow it. */
public final class RunFilter {
  private static final RunFilter ALL = new RunFilter(List.of(), false, OptionalInt.empty());

  private final List<Condition> conditions;
  private final boolean areDeletedWanted;
  private final OptionalInt limit;

  /**
   * Something that must hold of a row of {@link RunRows}.
   *
   * @param sql with one question mark for each value
   */
  private record Condition(String sql, List<Object> values) {}

  private RunFilter(List<Condition> conditions, boolean areDeletedWanted, OptionalInt limit) {
    this.conditions = conditions;
    this.areDeletedWanted = areDeletedWanted;
    this.limit = limit;
  }

  /** Every run that is not deleted. */
  public static RunFilter all() {
    return ALL;
  }

  /** Only runs with this anywhere in title, brewer or note, whatever the case. */
  public RunFilter matching(String text) {
    String pattern = "%" + text.replaceAll("[\\\\%_]", "\\\\$0") + "%";
    return and(
        "(ifnull(run.title, '') LIKE ? ESCAPE '\\' OR run.brewer LIKE ? ESCAPE '\\'"
            + " OR run.note LIKE ? ESCAPE '\\')",
        pattern,
        pattern,
        pattern);
  }

  /** Only runs of a plan with this title. */
  public RunFilter titled(String title) {
    return and("run.title = ?", title);
  }

  public RunFilter brewedBy(String brewer) {
    return and("run.brewer = ?", brewer);
  }

  /** Only runs made under this kind of feedback. */
  public RunFilter fed(Feedback feedback) {
    return and("rehearsal.feedback = ?", feedback.word());
  }

  /** Only runs that began then or later. */
  public RunFilter from(Instant earliest) {
    return and("rehearsal.started_at >= ?", earliest.toEpochMilli());
  }

  /** Only runs that began before then. */
  public RunFilter until(Instant end) {
    return and("rehearsal.started_at < ?", end.toEpochMilli());
  }

  public RunFilter withoutVoid() {
    return and("run.is_void = 0");
  }

  public RunFilter withoutSimulated() {
    return and("rehearsal.is_simulated = 0");
  }

  /** Only runs that have been judged. */
  public RunFilter finished() {
    return and("rehearsal.ended IS NOT NULL");
  }

  /** Those that were deleted instead of those that count. */
  public RunFilter onlyDeleted() {
    return new RunFilter(conditions, true, limit);
  }

  /** At most so many, the newest. */
  public RunFilter limit(int most) {
    return new RunFilter(conditions, areDeletedWanted, OptionalInt.of(most));
  }

  private RunFilter and(String sql, Object... values) {
    List<Condition> more = new ArrayList<>(conditions);
    more.add(new Condition(sql, List.of(values)));
    return new RunFilter(List.copyOf(more), areDeletedWanted, limit);
  }

  /** All conditions as SQL. */
  String where() {
    StringBuilder sql = new StringBuilder("run.deleted_at IS ");
    sql.append(areDeletedWanted ? "NOT NULL" : "NULL");
    conditions.forEach(condition -> sql.append(" AND ").append(condition.sql()));
    return sql.toString();
  }

  /** For the question marks of {@link #where}. */
  Object[] values() {
    return conditions.stream()
        .flatMap(condition -> Stream.of(condition.values().toArray()))
        .toArray();
  }

  /** A negative number is no limit. */
  int most() {
    return limit.orElse(-1);
  }
}
