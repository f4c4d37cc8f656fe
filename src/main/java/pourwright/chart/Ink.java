package pourwright.chart;

import java.util.Locale;

/** What is drawn with; the page gives the classes the colours of its light. */
enum Ink {
  INK("#15181d"),
  FAINT("#5c5a53"),
  RULE("#8a867b"),
  CORRIDOR("#ddd5c1"),
  NOW("#0a6a92"),
  OUTSIDE("#a8340a"),
  PAPER("#ffffff");

  private final String onPaper;

  Ink(String onPaper) {
    this.onPaper = onPaper;
  }

  /** Attributes of an area. */
  String fill() {
    return "class=\"fill-" + word() + "\" fill=\"" + onPaper + "\"";
  }

  /** Attributes of a line. */
  String stroke(double width) {
    return "class=\"stroke-"
        + word()
        + "\" fill=\"none\" stroke=\""
        + onPaper
        + "\" stroke-width=\""
        + Drawing.number(width)
        + "\"";
  }

  private String word() {
    return name().toLowerCase(Locale.ROOT);
  }
}
