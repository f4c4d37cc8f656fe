package pourwright.bench;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Font;
import java.awt.Graphics2D;
import java.awt.RenderingHints;
import java.awt.geom.Line2D;
import java.awt.geom.Rectangle2D;
import java.awt.image.BufferedImage;
import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import javax.imageio.ImageIO;
import pourwright.detect.Findings;
import pourwright.detect.PourEvent;

/** One recording drawn with its truth, what was announced and what hindsight made of it. */
final class Picture {
  private static final int WIDTH = 1500;
  private static final int HEIGHT = 760;
  private static final int MARGIN = 60;
  private static final int FLOOR = HEIGHT - 190;

  private static final Color INK = new Color(0x202020);
  private static final Color TRUTH = new Color(0xCFE3D4);
  private static final Color MISHAP = new Color(0xF2DCC8);
  private static final Color GAP = new Color(0xDDDDDD);
  private static final Color ANNOUNCED = new Color(0xA33B1F);
  private static final Color REFINED = new Color(0x1F4FA3);

  private final Graphics2D pen;
  private final double length;
  private final double lowest;
  private final double highest;

  private Picture(Graphics2D pen, Take take) {
    this.pen = pen;
    this.length = Math.max(1, take.truth().endSeconds());
    double low = 0;
    double high = 10;
    for (Take.Curve curve : take.curves().values()) {
      for (Take.Sample sample : curve.samples()) {
        low = Math.min(low, sample.grams());
        high = Math.max(high, sample.grams());
      }
    }
    this.lowest = low;
    this.highest = high;
  }

  static void draw(Take take, Finder.Found found, Path file) throws IOException {
    BufferedImage image = new BufferedImage(WIDTH, HEIGHT, BufferedImage.TYPE_INT_RGB);
    Graphics2D pen = image.createGraphics();
    pen.setRenderingHint(RenderingHints.KEY_ANTIALIASING, RenderingHints.VALUE_ANTIALIAS_ON);
    pen.setColor(Color.WHITE);
    pen.fillRect(0, 0, WIDTH, HEIGHT);
    pen.setFont(new Font(Font.SANS_SERIF, Font.PLAIN, 13));
    new Picture(pen, take).draw(take, found);
    pen.dispose();
    ImageIO.write(image, "png", file.toFile());
  }

  private void draw(Take take, Finder.Found found) {
    Truth truth = take.truth();
    truth.gaps().forEach(gap -> band(gap.startSeconds(), gap.endSeconds(), GAP, ""));
    truth.mishaps().forEach(m -> band(m.startSeconds(), m.endSeconds(), MISHAP, m.kind()));
    for (Truth.Pour pour : truth.pours()) {
      band(
          pour.startSeconds(),
          pour.endSeconds(),
          TRUTH,
          String.format(Locale.ROOT, "%.1f g", pour.grams()));
      pour.drainedSeconds().ifPresent(at -> mark(at, FLOOR + 6, FLOOR + 18, INK));
    }
    axis();
    pen.setColor(INK);
    for (Take.Curve curve : take.curves().values()) {
      trace(curve.samples());
    }
    pen.drawString(
        take.family().word() + ", seed " + take.seed() + ": " + take.about(), MARGIN, 22);
    pen.drawString("announced", 2, FLOOR + 62);
    pen.drawString("hindsight", 2, FLOOR + 112);
    for (PourEvent event : found.announced()) {
      if (event instanceof PourEvent.PourStarted start) {
        mark(start.knownAt().seconds(), FLOOR + 40, FLOOR + 70, ANNOUNCED);
        pen.drawString("▸", (int) x(start.knownAt().seconds()), FLOOR + 60);
      } else if (event instanceof PourEvent.PourEnded end) {
        mark(end.knownAt().seconds(), FLOOR + 40, FLOOR + 70, ANNOUNCED);
        pen.drawString("▪", (int) x(end.knownAt().seconds()), FLOOR + 60);
      } else if (event instanceof PourEvent.DripperLifted lift) {
        mark(lift.knownAt().seconds(), FLOOR + 40, FLOOR + 70, ANNOUNCED);
        pen.drawString("lift", (int) x(lift.knownAt().seconds()), FLOOR + 84);
      }
    }
    pen.setColor(REFINED);
    for (Findings.Pour pour : found.findings().pours()) {
      double start = x(pour.start().seconds());
      double end = x(pour.end().seconds());
      pen.fill(new Rectangle2D.Double(start, FLOOR + 100, Math.max(2, end - start), 14));
      pen.drawString(
          String.format(Locale.ROOT, "%.1f g", pour.poured().grams()), (int) start, FLOOR + 130);
    }
    found
        .findings()
        .lift()
        .ifPresent(lift -> mark(lift.time().seconds(), FLOOR + 95, FLOOR + 120, REFINED));
    truth.lift().ifPresent(lift -> mark(lift.seconds(), MARGIN, FLOOR, TRUTH.darker()));
    for (Findings.Drawdown drawdown : found.findings().drawdowns()) {
      mark(drawdown.end().seconds(), FLOOR + 118, FLOOR + 126, REFINED);
    }
    pen.setColor(INK);
    pen.drawString(
        "green: true pours, orange: mishaps, grey: no readings; small ticks: bed drained",
        MARGIN,
        HEIGHT - 12);
  }

  private void axis() {
    pen.setColor(INK);
    pen.setStroke(new BasicStroke(1f));
    pen.draw(new Line2D.Double(MARGIN, FLOOR, WIDTH - 20, FLOOR));
    for (int second = 0; second <= length; second += 10) {
      mark(second, FLOOR, FLOOR + 5, INK);
      pen.drawString(second + " s", (int) x(second) - 8, FLOOR + 32);
    }
    for (double grams : new double[] {lowest, 0, highest}) {
      pen.drawString(String.format(Locale.ROOT, "%.0f g", grams), 8, (int) y(grams));
    }
  }

  private void trace(List<Take.Sample> samples) {
    for (int i = 1; i < samples.size(); i++) {
      Take.Sample from = samples.get(i - 1);
      Take.Sample to = samples.get(i);
      if (to.seconds() - from.seconds() < 1.5) {
        pen.draw(
            new Line2D.Double(x(from.seconds()), y(from.grams()), x(to.seconds()), y(to.grams())));
      }
    }
  }

  private void band(double from, double until, Color colour, String label) {
    pen.setColor(colour);
    pen.fill(new Rectangle2D.Double(x(from), MARGIN, x(until) - x(from), FLOOR - MARGIN));
    pen.setColor(INK);
    pen.drawString(label, (int) x(from), MARGIN - 6);
  }

  private void mark(double seconds, double top, double bottom, Color colour) {
    pen.setColor(colour);
    pen.draw(new Line2D.Double(x(seconds), top, x(seconds), bottom));
  }

  private double x(double seconds) {
    return MARGIN + (WIDTH - 20 - MARGIN) * seconds / length;
  }

  private double y(double grams) {
    return FLOOR - (FLOOR - MARGIN) * (grams - lowest) / (highest - lowest);
  }
}
