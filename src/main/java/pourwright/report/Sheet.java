package pourwright.report;

/**
 * What is to be printed.
 *
 * @param title plain text: name of the document, also at the foot of every page
 * @param style CSS after the common style of all pages; may set another {@code @page} size
 * @param body XHTML inside {@code body}: every tag closed, user text through {@link #escaped};
 *     {@code svg} elements become vectors
 */
public record Sheet(String title, String style, String body) {

  /** Text from outside, safe between tags and in quoted attributes. */
  public static String escaped(String text) {
    StringBuilder safe = new StringBuilder(text.length() + 16);
    text.codePoints()
        .forEach(
            point -> {
              switch (point) {
                case '&' -> safe.append("&amp;");
                case '<' -> safe.append("&lt;");
                case '>' -> safe.append("&gt;");
                case '"' -> safe.append("&quot;");
                case '\'' -> safe.append("&#39;");
                default -> {
                  if (isAllowed(point)) {
                    safe.appendCodePoint(point);
                  }
                }
              }
            });
    return safe.toString();
  }

  /** The characters of XML 1.0, section 2.2; all others would make the page unreadable. */
  private static boolean isAllowed(int point) {
    return point == '\t'
        || point == '\n'
        || point == '\r'
        || (point >= 0x20 && point <= 0xD7FF)
        || (point >= 0xE000 && point <= 0xFFFD)
        || point >= 0x10000;
  }
}
