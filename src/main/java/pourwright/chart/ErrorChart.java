package pourwright.chart;

import java.util.List;
import java.util.Locale;

/** Shown less true weight at each load, with its interval, in a corridor of what is allowed. */
public final class ErrorChart {
  private static final double WIDTH = Drawing.PAPER_WIDTH;
  private static final double HEIGHT = 130;
  private static final double LEFT = 62;
  private static final double RIGHT = 16;
  private static final double TOP = 12;
  private static final double BOTTOM = 34;
  private static final double CAP = 5;

  private ErrorChart() {}

  /**
   * One load.
   *
   * @param loadGrams on the scale (g)
   * @param errorGrams shown less true (g)
   * @param lowGrams lower end of its interval (g)
   * @param highGrams upper end (g)
   * @param allowedGrams yardstick at this load, both ways (g)
   */
  public record Point(
      double loadGrams,
      double errorGrams,
      double lowGrams,
      double highGrams,
      double allowedGrams) {}

  /**
   * Draws the points, lightest load first.
   *
   * @param points at least one
   */
  public static String draw(String name, List<Point> points) {
    double most = points.get(points.size() - 1).loadGrams();
    double reach = 0;
    for (Point point : points) {
      reach =
          Math.max(
              reach,
              Math.max(
                  point.allowedGrams(),
                  Math.max(Math.abs(point.lowGrams()), Math.abs(point.highGrams()))));
    }
    double tall = reach <= 0 ? 1 : reach * 1.1;
    double across = WIDTH - LEFT - RIGHT;
    double middle = TOP + (HEIGHT - TOP - BOTTOM) / 2;
    double perGram = (HEIGHT - TOP - BOTTOM) / 2 / tall;

    Drawing drawing = new Drawing(WIDTH, HEIGHT, name);
    double from = LEFT;
    for (Point point : points) {
      double x = LEFT + across * point.loadGrams() / most;
      double half = point.allowedGrams() * perGram;
      drawing.rectangle(from, middle - half, x - from, 2 * half, Ink.CORRIDOR);
      from = x;
    }
    drawing.line(LEFT, middle, WIDTH - RIGHT, middle, Ink.INK, 1);
    for (double grams : new double[] {-reach, 0, reach}) {
      drawing.text(
          LEFT - 8,
          middle - grams * perGram + 4,
          signed(grams) + " g",
          Ink.FAINT,
          Drawing.Anchor.END,
          false);
    }
    for (Point point : points) {
      double x = LEFT + across * point.loadGrams() / most;
      double low = middle - point.lowGrams() * perGram;
      double high = middle - point.highGrams() * perGram;
      drawing.line(x, low, x, high, Ink.INK, 2);
      drawing.line(x - CAP, low, x + CAP, low, Ink.INK, 2);
      drawing.line(x - CAP, high, x + CAP, high, Ink.INK, 2);
      double y = middle - point.errorGrams() * perGram;
      if (Math.abs(point.errorGrams()) > point.allowedGrams()) {
        drawing.diamond(x, y, 6, Ink.OUTSIDE);
      } else {
        drawing.dot(x, y, 5, Ink.NOW);
      }
      drawing.text(
          x,
          HEIGHT - 10,
          String.format(Locale.ROOT, "%.0f g", point.loadGrams()),
          Ink.FAINT,
          point.loadGrams() == most ? Drawing.Anchor.END : Drawing.Anchor.MIDDLE,
          false);
    }
    return drawing.svg();
  }

  private static String signed(double grams) {
    return grams == 0
        ? "0"
        : (grams < 0 ? "−" : "+") + String.format(Locale.ROOT, "%.2f", Math.abs(grams));
  }
}
