package pourwright.report;

import org.jspecify.annotations.Nullable;

/** The body of a sheet in the making; all text is escaped here and nowhere else. */
final class Html {
  private final StringBuilder body = new StringBuilder(8_192);
  private String columns = "";

  void title(String text) {
    element("h1", text);
  }

  void heading(String text) {
    element("h2", text);
  }

  void text(String text) {
    element("p", text);
  }

  void faint(String text) {
    paragraph("faint", text);
  }

  void paragraph(String kind, String text) {
    body.append("<p class=\"")
        .append(kind)
        .append("\">")
        .append(Sheet.escaped(text))
        .append("</p>");
  }

  /** A drawing of our own, which is safe as it is; nothing when there is none. */
  void chart(@Nullable String svg) {
    if (svg != null) {
      body.append("<figure>").append(svg).append("</figure>");
    }
  }

  /**
   * Begins a table.
   *
   * @param columns one letter each: {@code w} for words, {@code n} for numbers
   */
  void startTable(String kind, String columns, String... heads) {
    this.columns = columns;
    body.append("<table class=\"").append(kind).append("\"><thead>");
    row("th", heads);
    body.append("</thead><tbody>");
  }

  void row(String... cells) {
    row("td", cells);
  }

  private void row(String name, String... cells) {
    body.append("<tr>");
    for (int i = 0; i < cells.length; i++) {
      body.append('<')
          .append(name)
          .append(columns.charAt(i) == 'w' ? " class=\"words\">" : ">")
          .append(Sheet.escaped(cells[i]))
          .append("</")
          .append(name)
          .append('>');
    }
    body.append("</tr>");
  }

  void endTable() {
    body.append("</tbody></table>");
  }

  String body() {
    return body.toString();
  }

  private void element(String name, String text) {
    body.append('<')
        .append(name)
        .append('>')
        .append(Sheet.escaped(text))
        .append("</")
        .append(name)
        .append('>');
  }
}
