package pourwright.chart;

import java.util.List;
import java.util.Optional;

/** One figure of run after run, with the way it goes. */
public final class CourseChart {
  private static final double WIDTH = Drawing.PAPER_WIDTH;
  private static final double HEIGHT = 240;
  private static final double LEFT = 48;
  private static final double RIGHT = 14;
  private static final double TOP = 34;
  private static final double BOTTOM = 40;
  private static final int TICKS = 8;

  private CourseChart() {}

  /** How a run is marked, so that no colour is needed to tell them apart. */
  public enum Mark {
    GUIDED("guided"),
    BLIND("blind");

    private final String word;

    Mark(String word) {
      this.word = word;
    }
  }

  /**
   * One run.
   *
   * @param value never negative
   * @param isOutlier whether it does not belong to the rest
   */
  public record Point(double value, Mark mark, boolean isOutlier) {}

  /** A straight line over the count of runs, from 0. */
  public record Way(double intercept, double slope, boolean isClear) {}

  /**
   * Draws runs in their order.
   *
   * @param points at least one
   * @param limit what is still inside
   */
  public static String draw(
      String name, String unit, List<Point> points, double limit, Optional<Way> way) {
    double most = points.stream().mapToDouble(Point::value).max().orElse(limit);
    Axis x = new Axis(0.5, points.size() + 0.5, LEFT, WIDTH - RIGHT);
    Axis y = new Axis(0, Math.max(most, limit) * 1.1, HEIGHT - BOTTOM, TOP);
    Drawing drawing = new Drawing(WIDTH, HEIGHT, name);
    drawing
        .rectangle(x.start(), y.at(limit), x.end() - x.start(), y.at(0) - y.at(limit), Ink.CORRIDOR)
        .line(x.start(), y.start(), x.end(), y.start(), Ink.INK, 1);
    for (double tick : x.ticks(Math.min(TICKS, points.size()))) {
      if (tick >= 1 && tick == Math.rint(tick)) {
        drawing.text(
            x.at(tick), y.start() + 18, x.label(tick, 1), Ink.FAINT, Drawing.Anchor.MIDDLE, false);
      }
    }
    for (double tick : y.ticks(4)) {
      drawing.text(
          x.start() - 8, y.at(tick) + 4, y.label(tick, 4), Ink.FAINT, Drawing.Anchor.END, false);
    }
    drawing
        .text(x.end(), y.start() + 33, "run", Ink.FAINT, Drawing.Anchor.END, false)
        .text(0, 13, unit, Ink.FAINT);
    legend(drawing, points);
    way.ifPresent(
        line -> {
          double last = points.size() - 1.0;
          double from = y.clipped(line.intercept());
          double to = y.clipped(line.intercept() + line.slope() * last);
          if (line.isClear()) {
            drawing.line(x.at(1), from, x.at(last + 1), to, Ink.NOW, 2.5);
          } else {
            drawing.dashes(x.at(1), from, x.at(last + 1), to, Ink.RULE, 1.5);
          }
        });
    for (int i = 0; i < points.size(); i++) {
      mark(drawing, x.at(i + 1), y.at(points.get(i).value()), points.get(i));
    }
    return drawing.svg();
  }

  private static void legend(Drawing drawing, List<Point> points) {
    double at = WIDTH - RIGHT;
    if (points.stream().anyMatch(Point::isOutlier)) {
      drawing.text(at, 13, "apart from the rest", Ink.FAINT, Drawing.Anchor.END, false);
      drawing.frame(at - 132, 3, 11, 11, Ink.OUTSIDE, 1.5);
      at -= 152;
    }
    for (Mark mark : Mark.values()) {
      if (points.stream().anyMatch(point -> point.mark() == mark)) {
        drawing.text(at, 13, mark.word, Ink.FAINT, Drawing.Anchor.END, false);
        at -= 52;
        mark(drawing, at, 9, new Point(0, mark, false));
        at -= 16;
      }
    }
  }

  private static void mark(Drawing drawing, double x, double y, Point point) {
    if (point.mark() == Mark.BLIND) {
      drawing
          .rectangle(x - 4.5, y - 4.5, 9, 9, Ink.INK)
          .rectangle(x - 2.5, y - 2.5, 5, 5, Ink.PAPER);
    } else {
      drawing.dot(x, y, 4, Ink.INK);
    }
    if (point.isOutlier()) {
      drawing.frame(x - 8, y - 8, 16, 16, Ink.OUTSIDE, 1.5);
    }
  }
}
