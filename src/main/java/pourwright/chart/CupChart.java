package pourwright.chart;

import java.util.List;

/** Strength over extraction, with a region and the uncertainty of every cup. */
public final class CupChart {
  private static final double WIDTH = Drawing.PAPER_WIDTH;
  private static final double HEIGHT = 380;
  private static final double LEFT = 56;
  private static final double RIGHT = 18;
  private static final double TOP = 24;
  private static final double BOTTOM = 44;

  private CupChart() {}

  /** One cup; uncertainties are already expanded, all in percent or percentage points. */
  public record Cup(
      double extraction,
      double extractionUncertainty,
      double strength,
      double strengthUncertainty,
      boolean isLast) {}

  /** Where a cup is well balanced, by some published word. */
  public record Region(
      double leastExtraction, double mostExtraction, double weakest, double strongest) {}

  public static String draw(String name, List<Cup> cups, Region region) {
    double[] across = {
      region.leastExtraction() - 3, region.mostExtraction() + 3,
    };
    double[] up = {region.weakest() - 0.25, region.strongest() + 0.25};
    for (Cup cup : cups) {
      across[0] = Math.min(across[0], cup.extraction() - cup.extractionUncertainty() - 0.3);
      across[1] = Math.max(across[1], cup.extraction() + cup.extractionUncertainty() + 0.3);
      up[0] = Math.min(up[0], cup.strength() - cup.strengthUncertainty() - 0.02);
      up[1] = Math.max(up[1], cup.strength() + cup.strengthUncertainty() + 0.02);
    }
    Axis x = new Axis(across[0], across[1], LEFT, WIDTH - RIGHT);
    Axis y = new Axis(up[0], up[1], HEIGHT - BOTTOM, TOP);
    Drawing drawing = new Drawing(WIDTH, HEIGHT, name);
    drawing.rectangle(
        x.at(region.leastExtraction()),
        y.at(region.strongest()),
        x.at(region.mostExtraction()) - x.at(region.leastExtraction()),
        y.at(region.weakest()) - y.at(region.strongest()),
        Ink.CORRIDOR);
    drawing
        .line(x.start(), y.start(), x.end(), y.start(), Ink.INK, 1)
        .line(x.start(), y.start(), x.start(), y.end(), Ink.INK, 1);
    for (double tick : x.ticks(7)) {
      drawing
          .line(x.at(tick), y.start(), x.at(tick), y.start() + 5, Ink.INK, 1)
          .text(
              x.at(tick),
              y.start() + 19,
              x.label(tick, 7),
              Ink.FAINT,
              Drawing.Anchor.MIDDLE,
              false);
    }
    for (double tick : y.ticks(6)) {
      drawing
          .line(x.start() - 5, y.at(tick), x.start(), y.at(tick), Ink.INK, 1)
          .text(
              x.start() - 9,
              y.at(tick) + 4,
              y.label(tick, 6),
              Ink.FAINT,
              Drawing.Anchor.END,
              false);
    }
    drawing
        .text(x.end(), y.start() + 36, "extraction, %", Ink.FAINT, Drawing.Anchor.END, false)
        .text(x.start() + 8, y.end() + 6, "strength, %", Ink.FAINT);
    for (Cup cup : cups) {
      cup(drawing, x, y, cup);
    }
    return drawing.svg();
  }

  private static void cup(Drawing drawing, Axis x, Axis y, Cup cup) {
    Ink ink = cup.isLast() ? Ink.NOW : Ink.INK;
    double stroke = cup.isLast() ? 2 : 0.8;
    double atX = x.at(cup.extraction());
    double atY = y.at(cup.strength());
    drawing
        .line(
            x.at(cup.extraction() - cup.extractionUncertainty()),
            atY,
            x.at(cup.extraction() + cup.extractionUncertainty()),
            atY,
            ink,
            stroke)
        .line(
            atX,
            y.at(cup.strength() - cup.strengthUncertainty()),
            atX,
            y.at(cup.strength() + cup.strengthUncertainty()),
            ink,
            stroke)
        .dot(atX, atY, cup.isLast() ? 6 : 3.5, ink);
    if (cup.isLast()) {
      drawing.text(atX + 10, atY - 9, "last", Ink.INK, Drawing.Anchor.START, true);
    }
  }
}
