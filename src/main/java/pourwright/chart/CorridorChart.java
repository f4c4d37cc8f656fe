package pourwright.chart;

import java.util.Arrays;
import java.util.List;

/** Runs laid over the corridor of their plan: water poured over the time since the first water. */
public final class CorridorChart {
  private static final double WIDTH = Drawing.PAPER_WIDTH;
  private static final double HEIGHT = 320;
  private static final double LEFT = 48;
  private static final double RIGHT = 14;
  private static final double TOP = 16;
  private static final double BOTTOM = 40;
  private static final int TICKS = 6;

  /** More corners than pixels are only slow. */
  private static final int MOST_CORNERS = 900;

  private CorridorChart() {}

  /**
   * What the plan allows.
   *
   * @param seconds rising, at least two
   * @param lowGrams as many as seconds, as are the others
   */
  @SuppressWarnings("ArrayRecordComponent") // handed on once, to be drawn
  public record Band(
      double[] seconds, double[] lowGrams, double[] plannedGrams, double[] highGrams) {}

  /**
   * One run.
   *
   * @param seconds since the first water, never falling
   * @param grams poured by then
   * @param isMain drawn on top and strong
   */
  @SuppressWarnings("ArrayRecordComponent") // handed on once, to be drawn
  public record Trace(double[] seconds, double[] grams, boolean isMain) {}

  /** Draws runs, the main ones on top. */
  public static String draw(String name, Band band, List<Trace> traces) {
    double longest = band.seconds()[band.seconds().length - 1];
    double heaviest = Arrays.stream(band.highGrams()).max().orElse(1);
    for (Trace trace : traces) {
      longest = Math.max(longest, Arrays.stream(trace.seconds()).max().orElse(0));
      heaviest = Math.max(heaviest, Arrays.stream(trace.grams()).max().orElse(0));
    }
    Axis x = new Axis(0, Math.max(1, longest), LEFT, WIDTH - RIGHT);
    Axis y = new Axis(0, Math.max(1, heaviest * 1.04), HEIGHT - BOTTOM, TOP);
    Drawing drawing = new Drawing(WIDTH, HEIGHT, name);
    drawing.area(
        outline(x, y, band.seconds(), band.highGrams())
            + back(x, y, band.seconds(), band.lowGrams()),
        Ink.CORRIDOR);
    axes(drawing, x, y);
    drawing.path(curve(x, y, band.seconds(), band.plannedGrams()), Ink.RULE, 1.2);
    long others = traces.stream().filter(trace -> !trace.isMain()).count();
    double opacity = others > 12 ? 0.3 : others > 4 ? 0.45 : 0.7;
    for (Trace trace : traces) {
      if (!trace.isMain()) {
        drawing.path(curve(x, y, trace.seconds(), trace.grams()), Ink.INK, 1, opacity);
      }
    }
    for (Trace trace : traces) {
      if (trace.isMain()) {
        drawing.path(curve(x, y, trace.seconds(), trace.grams()), Ink.NOW, 2.6);
      }
    }
    return drawing.svg();
  }

  private static void axes(Drawing drawing, Axis x, Axis y) {
    drawing.line(x.start(), y.start(), x.end(), y.start(), Ink.INK, 1);
    for (double tick : x.ticks(TICKS)) {
      drawing
          .line(x.at(tick), y.start(), x.at(tick), y.start() + 5, Ink.INK, 1)
          .text(
              x.at(tick),
              y.start() + 19,
              x.label(tick, TICKS),
              Ink.FAINT,
              Drawing.Anchor.MIDDLE,
              false);
    }
    for (double tick : y.ticks(5)) {
      drawing.text(
          x.start() - 8, y.at(tick) + 4, y.label(tick, 5), Ink.FAINT, Drawing.Anchor.END, false);
    }
    drawing
        .text(
            x.end(),
            y.start() + 34,
            "s since the first water",
            Ink.FAINT,
            Drawing.Anchor.END,
            false)
        .text(x.start() + 4, y.end() + 8, "g poured", Ink.FAINT);
  }

  private static String outline(Axis x, Axis y, double[] seconds, double[] grams) {
    return curve(x, y, seconds, grams);
  }

  private static String back(Axis x, Axis y, double[] seconds, double[] grams) {
    StringBuilder path = new StringBuilder();
    for (int i = seconds.length - 1; i >= 0; i--) {
      path.append('L').append(Drawing.point(x.at(seconds[i]), y.at(grams[i])));
    }
    return path.append('Z').toString();
  }

  private static String curve(Axis x, Axis y, double[] seconds, double[] grams) {
    StringBuilder path = new StringBuilder();
    int stride = Math.max(1, seconds.length / MOST_CORNERS);
    for (int i = 0; i < seconds.length; i += stride) {
      path.append(i == 0 ? 'M' : 'L').append(Drawing.point(x.at(seconds[i]), y.at(grams[i])));
    }
    if (seconds.length > 0) {
      int last = seconds.length - 1;
      path.append('L').append(Drawing.point(x.at(seconds[last]), y.at(grams[last])));
    }
    return path.toString();
  }
}
