package pourwright.chart;

import java.util.Locale;

/** One SVG picture in the making. Lengths are CSS pixels of the picture at its own size. */
final class Drawing {
  /** The text width of a printed A4 page with margins of 16 mm. */
  static final double PAPER_WIDTH = 672;

  private static final double TYPE = 13;
  private static final String FAMILY = "Hyperlegible, &quot;Liberation Sans&quot;, sans-serif";

  /** In print the bold face goes by a name of its own. */
  private static final String BOLD = "&quot;Hyperlegible Bold&quot;, " + FAMILY;

  private final StringBuilder svg = new StringBuilder(4_096);

  enum Anchor {
    START,
    MIDDLE,
    END
  }

  /**
   * An empty picture.
   *
   * @param name what it shows, for those who cannot see it
   */
  Drawing(double width, double height, String name) {
    svg.append("<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" viewBox=\"0 0 ")
        .append(number(width))
        .append(' ')
        .append(number(height))
        .append("\" width=\"")
        .append(number(width))
        .append("\" height=\"")
        .append(number(height))
        .append("\" aria-label=\"")
        .append(escaped(name))
        .append("\">");
  }

  Drawing rectangle(double x, double y, double width, double height, Ink ink) {
    svg.append("<rect x=\"")
        .append(number(x))
        .append("\" y=\"")
        .append(number(y))
        .append("\" width=\"")
        .append(number(Math.max(0, width)))
        .append("\" height=\"")
        .append(number(Math.max(0, height)))
        .append("\" ")
        .append(ink.fill())
        .append("/>");
    return this;
  }

  Drawing frame(double x, double y, double width, double height, Ink ink, double stroke) {
    return path(
        "M"
            + point(x, y)
            + "H"
            + number(x + width)
            + "V"
            + number(y + height)
            + "H"
            + number(x)
            + "Z",
        ink,
        stroke);
  }

  Drawing line(double x1, double y1, double x2, double y2, Ink ink, double stroke) {
    return path("M" + point(x1, y1) + "L" + point(x2, y2), ink, stroke);
  }

  Drawing dashes(double x1, double y1, double x2, double y2, Ink ink, double stroke) {
    svg.append("<path d=\"M")
        .append(point(x1, y1))
        .append('L')
        .append(point(x2, y2))
        .append("\" stroke-dasharray=\"6 5\" ")
        .append(ink.stroke(stroke))
        .append("/>");
    return this;
  }

  /** An open or closed line in SVG's path language. */
  Drawing path(String path, Ink ink, double stroke) {
    return path(path, ink, stroke, 1);
  }

  Drawing path(String path, Ink ink, double stroke, double opacity) {
    svg.append("<path d=\"").append(path).append("\" stroke-linejoin=\"round\"");
    if (opacity < 1) {
      svg.append(" stroke-opacity=\"").append(number(opacity)).append('"');
    }
    svg.append(' ').append(ink.stroke(stroke)).append("/>");
    return this;
  }

  Drawing area(String path, Ink ink) {
    svg.append("<path d=\"").append(path).append("\" ").append(ink.fill()).append("/>");
    return this;
  }

  Drawing dot(double x, double y, double radius, Ink ink) {
    svg.append("<circle cx=\"")
        .append(number(x))
        .append("\" cy=\"")
        .append(number(y))
        .append("\" r=\"")
        .append(number(radius))
        .append("\" ")
        .append(ink.fill())
        .append("/>");
    return this;
  }

  /** A square on its corner, the mark of what is outside. */
  Drawing diamond(double x, double y, double radius, Ink ink) {
    return area(
        "M"
            + point(x, y - radius)
            + "L"
            + point(x + radius, y)
            + "L"
            + point(x, y + radius)
            + "L"
            + point(x - radius, y)
            + "Z",
        ink);
  }

  Drawing text(double x, double y, String text, Ink ink) {
    return text(x, y, text, ink, Anchor.START, false);
  }

  Drawing text(double x, double y, String text, Ink ink, Anchor anchor, boolean isBold) {
    svg.append("<text x=\"")
        .append(number(x))
        .append("\" y=\"")
        .append(number(y))
        .append("\" font-size=\"")
        .append(number(TYPE))
        .append("\" font-family=\"")
        .append(isBold ? BOLD : FAMILY)
        .append('"')
        .append(isBold ? " font-weight=\"700\"" : "")
        .append(
            anchor == Anchor.START
                ? ""
                : " text-anchor=\"" + anchor.name().toLowerCase(Locale.ROOT) + "\"")
        .append(' ')
        .append(ink.fill())
        .append('>')
        .append(escaped(text))
        .append("</text>");
    return this;
  }

  String svg() {
    return svg + "</svg>";
  }

  static String point(double x, double y) {
    return number(x) + " " + number(y);
  }

  /** Two decimals at most, none that are zero. */
  static String number(double value) {
    String digits = String.format(Locale.ROOT, "%.2f", value);
    int end = digits.length();
    while (digits.charAt(end - 1) == '0') {
      end--;
    }
    if (digits.charAt(end - 1) == '.') {
      end--;
    }
    String shortened = digits.substring(0, end);
    return shortened.equals("-0") ? "0" : shortened;
  }

  /** Safe in SVG; control characters, which XML cannot hold, become spaces. */
  static String escaped(String text) {
    StringBuilder safe = new StringBuilder(text.length() + 8);
    text.codePoints()
        .forEach(
            point -> {
              switch (point) {
                case '&' -> safe.append("&amp;");
                case '<' -> safe.append("&lt;");
                case '>' -> safe.append("&gt;");
                case '"' -> safe.append("&quot;");
                default -> {
                  if (Character.isISOControl(point)
                      || (point >= 0xD800 && point <= 0xDFFF)
                      || (point & 0xFFFE) == 0xFFFE) {
                    safe.append(' ');
                  } else {
                    safe.appendCodePoint(point);
                  }
                }
              }
            });
    return safe.toString();
  }
}
