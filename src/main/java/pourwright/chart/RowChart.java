package pourwright.chart;

import java.util.List;

/** Runs in a row: a full block for a clean one, an open one with its misses for any other. */
public final class RowChart {
  private static final double WIDTH = Drawing.PAPER_WIDTH;
  private static final double GAP = 4;
  private static final double LARGEST = 34;
  private static final double HEIGHT = 40;

  private RowChart() {}

  /**
   * Draws a row.
   *
   * @param misses pours that were not inside, by run, in the order they were made
   */
  public static String draw(String name, List<Integer> misses) {
    double size =
        Math.min(LARGEST, (WIDTH - GAP * (misses.size() - 1)) / Math.max(1, misses.size()));
    Drawing drawing = new Drawing(WIDTH, HEIGHT, name);
    for (int i = 0; i < misses.size(); i++) {
      double x = i * (size + GAP);
      if (misses.get(i) == 0) {
        drawing.rectangle(x, 2, size, LARGEST, Ink.NOW);
      } else {
        drawing
            .frame(x + 1, 3, size - 2, LARGEST - 2, Ink.OUTSIDE, 2)
            .text(
                x + size / 2,
                2 + LARGEST / 2 + 5,
                String.valueOf(misses.get(i)),
                Ink.OUTSIDE,
                Drawing.Anchor.MIDDLE,
                true);
      }
    }
    return drawing.svg();
  }
}
