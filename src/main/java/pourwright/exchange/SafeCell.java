package pourwright.exchange;

/**
 * Text in a CSV cell. What a spreadsheet would take for a formula (it begins with one of {@code = +
 * - @}, a tab or a line break) gets an apostrophe in front, which spreadsheets read as "this is
 * text".
 */
public final class SafeCell {
  private static final String FORMULA_STARTS = "=+-@\t\r\n";

  private SafeCell() {}

  /** As it may stand in a line of CSV (RFC 4180), with quotes where they are needed. */
  public static String of(String text) {
    String safe =
        !text.isEmpty() && FORMULA_STARTS.indexOf(text.charAt(0)) >= 0 ? "'" + text : text;
    boolean isQuoted = safe.chars().anyMatch(each -> ",\"\r\n".indexOf(each) >= 0);
    return isQuoted ? '"' + safe.replace("\"", "\"\"") + '"' : safe;
  }
}
