package pourwright.chart;

import java.util.List;

/**
 * How far off each kind of error of each pour is, in units of its tolerance: a mark where the mean
 * lies, a thick bar where it can lie, a thin one for the scatter from run to run.
 */
public final class HabitChart {
  private static final double WIDTH = Drawing.PAPER_WIDTH;
  private static final double ROW = 24;
  private static final double TOP = 40;
  private static final double LEFT = 112;
  private static final double RIGHT = 150;
  private static final double REACH = 3;

  private HabitChart() {}

  /**
   * One row; all but the words in units of the tolerance.
   *
   * @param pour heads the first row of a pour, else empty
   * @param what kind of error
   * @param mean where the errors lie on average
   * @param low where that mean can lie at least
   * @param high where it can lie at most
   * @param spread standard deviation from run to run
   * @param words beside the row
   */
  public record Row(
      String pour,
      String what,
      double mean,
      double low,
      double high,
      double spread,
      String words) {}

  public static String draw(String name, List<Row> rows) {
    double height = TOP + ROW * rows.size() + 10;
    Axis x = new Axis(-REACH, REACH, LEFT, WIDTH - RIGHT);
    Drawing drawing = new Drawing(WIDTH, height, name);
    double bottom = height - 8;
    drawing.rectangle(x.at(-1), TOP - 6, x.at(1) - x.at(-1), bottom - TOP + 6, Ink.CORRIDOR);
    for (int mark = (int) -REACH; mark <= REACH; mark++) {
      drawing.text(
          x.at(mark),
          TOP - 12,
          mark == 0 ? "plan" : (mark < 0 ? "−" : "+") + Math.abs(mark),
          Ink.FAINT,
          Drawing.Anchor.MIDDLE,
          false);
    }
    drawing
        .line(x.at(0), TOP - 6, x.at(0), bottom, Ink.RULE, 1)
        .text(x.start(), 12, "short, early, slow", Ink.FAINT)
        .text(x.end(), 12, "over, late, fast", Ink.FAINT, Drawing.Anchor.END, false)
        .text(x.at(0), 12, "tolerances off plan", Ink.FAINT, Drawing.Anchor.MIDDLE, false);
    for (int i = 0; i < rows.size(); i++) {
      row(drawing, x, TOP + ROW * (i + 0.5), rows.get(i), i > 0);
    }
    return drawing.svg();
  }

  private static void row(Drawing drawing, Axis x, double y, Row row, boolean isBelow) {
    if (!row.pour().isEmpty()) {
      if (isBelow) {
        drawing.line(0, y - ROW / 2, WIDTH, y - ROW / 2, Ink.RULE, 0.6);
      }
      drawing.text(0, y + 4, row.pour(), Ink.INK, Drawing.Anchor.START, true);
    }
    boolean isOff = row.low() > 1 || row.high() < -1 || Math.abs(row.mean()) > 1;
    Ink ink = isOff ? Ink.OUTSIDE : Ink.NOW;
    drawing
        .text(x.start() - 10, y + 4, row.what(), Ink.FAINT, Drawing.Anchor.END, false)
        .line(
            x.clipped(row.mean() - row.spread()),
            y,
            x.clipped(row.mean() + row.spread()),
            y,
            Ink.INK,
            1.2)
        .line(x.clipped(row.low()), y, x.clipped(row.high()), y, ink, 5);
    double at = x.clipped(row.mean());
    if (isOff) {
      drawing.diamond(at, y, 8, ink);
    } else {
      drawing.dot(at, y, 6, ink);
    }
    drawing.text(WIDTH, y + 4, row.words(), Ink.INK, Drawing.Anchor.END, false);
  }
}
