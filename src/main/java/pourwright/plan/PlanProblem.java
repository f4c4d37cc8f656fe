package pourwright.plan;

/**
 * Something in a plan file that is wrong, or only unusual.
 *
 * @param file as the reader was told
 * @param line from 1
 * @param column from 1
 * @param wrong what is there
 * @param right what would be right
 */
public record PlanProblem(
    String file, int line, int column, Severity severity, String wrong, String right) {

  public enum Severity {
    /** The plan cannot be used. */
    ERROR,
    /** Legal, but outside common practice. */
    WARNING
  }

  /** One line: {@code FILE:LINE:COLUMN: what is wrong; what would be right}. */
  @Override
  public String toString() {
    return file + ":" + line + ":" + column + ": " + wrong + "; " + right;
  }
}
