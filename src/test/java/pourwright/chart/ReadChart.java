package pourwright.chart;

import static org.assertj.core.api.Assertions.assertThat;

import java.awt.Font;
import java.awt.FontFormatException;
import java.awt.font.FontRenderContext;
import java.io.IOException;
import java.io.InputStream;
import java.io.StringReader;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import java.util.function.Predicate;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import javax.xml.parsers.DocumentBuilderFactory;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.w3c.dom.NodeList;
import org.xml.sax.InputSource;

/**
 * A chart as someone sees who knows only the picture: its marks, and what they stand for by the
 * figures along its sides.
 */
final class ReadChart {
  /** The middle of a figure above the line it stands on (px): half of its height. */
  private static final double FIGURE_MIDDLE = 4;

  private static final FontRenderContext ON_PAPER = new FontRenderContext(null, true, true);
  private static final Font PLAIN = font("400");
  private static final Font BOLD = font("700");

  private static final Pattern COMMAND = Pattern.compile("([MLHVZ])([^MLHVZ]*)");

  private final Document picture;

  record Spot(double x, double y) {}

  /** Words with the place where they stand and their ends. */
  record Words(
      String text, String anchor, double x, double y, double left, double right, boolean isBold) {}

  /** A mark: its corners, or its middle alone for a dot. */
  record Shape(String kind, String look, double stroke, List<Spot> corners, double radius) {
    double left() {
      return corners.stream().mapToDouble(Spot::x).min().orElseThrow() - radius;
    }

    double right() {
      return corners.stream().mapToDouble(Spot::x).max().orElseThrow() + radius;
    }

    double top() {
      return corners.stream().mapToDouble(Spot::y).min().orElseThrow() - radius;
    }

    double bottom() {
      return corners.stream().mapToDouble(Spot::y).max().orElseThrow() + radius;
    }

    Spot middle() {
      return new Spot((left() + right()) / 2, (top() + bottom()) / 2);
    }
  }

  ReadChart(String svg) throws Exception {
    picture = parsed(svg);
    everythingIsInside();
  }

  private static Font font(String weight) {
    try (InputStream in =
        ReadChart.class.getResourceAsStream("/pourwright/report/hyperlegible-" + weight + ".ttf")) {
      return Font.createFont(Font.TRUETYPE_FONT, Objects.requireNonNull(in));
    } catch (IOException | FontFormatException broken) {
      throw new IllegalStateException(broken);
    }
  }

  private void everythingIsInside() {
    double width = number(picture.getDocumentElement(), "width");
    double height = number(picture.getDocumentElement(), "height");
    for (Shape shape : shapes()) {
      assertThat(shape.left()).as("%s", shape).isGreaterThanOrEqualTo(0);
      assertThat(shape.right()).as("%s", shape).isLessThanOrEqualTo(width);
      assertThat(shape.top()).as("%s", shape).isGreaterThanOrEqualTo(0);
      assertThat(shape.bottom()).as("%s", shape).isLessThanOrEqualTo(height);
    }
    List<Words> all = words();
    for (Words words : all) {
      assertThat(words.left()).as("%s", words).isGreaterThanOrEqualTo(0);
      assertThat(words.right()).as("%s", words).isLessThanOrEqualTo(width);
      assertThat(words.y()).as("%s", words).isBetween(3 * FIGURE_MIDDLE, height);
      for (Words other : all.subList(all.indexOf(words) + 1, all.size())) {
        boolean isBeside = words.right() <= other.left() || other.right() <= words.left();
        boolean isAbove = Math.abs(words.y() - other.y()) >= 3 * FIGURE_MIDDLE;
        assertThat(isBeside || isAbove).as("%s on %s", words, other).isTrue();
      }
    }
  }

  static Document parsed(String svg) throws Exception {
    return DocumentBuilderFactory.newInstance()
        .newDocumentBuilder()
        .parse(new InputSource(new StringReader(svg)));
  }

  static List<Element> elements(Document picture, String name) {
    NodeList found = picture.getElementsByTagName(name);
    List<Element> elements = new ArrayList<>();
    for (int i = 0; i < found.getLength(); i++) {
      elements.add((Element) found.item(i));
    }
    return elements;
  }

  private static double number(Element element, String name) {
    return Double.parseDouble(element.getAttribute(name));
  }

  List<Words> words() {
    return elements(picture, "text").stream()
        .map(
            element -> {
              String text = element.getTextContent();
              double x = number(element, "x");
              String anchor = element.getAttribute("text-anchor");
              boolean isBold = element.getAttribute("font-weight").equals("700");
              double wide =
                  (isBold ? BOLD : PLAIN)
                      .deriveFont((float) number(element, "font-size"))
                      .getStringBounds(text, ON_PAPER)
                      .getWidth();
              double left =
                  switch (anchor) {
                    case "middle" -> x - wide / 2;
                    case "end" -> x - wide;
                    default -> x;
                  };
              return new Words(text, anchor, x, number(element, "y"), left, left + wide, isBold);
            })
        .toList();
  }

  Words words(String text) {
    return words(text, words -> true);
  }

  private Words words(String text, Predicate<Words> which) {
    List<Words> all = words();
    return all.stream()
        .filter(words -> words.text().equals(text) && which.test(words))
        .findFirst()
        .orElseThrow(() -> new AssertionError(text + " in " + all));
  }

  /** Everything drawn, in the order it was drawn in within each kind. */
  List<Shape> shapes() {
    List<Shape> shapes = new ArrayList<>();
    for (Element element : elements(picture, "rect")) {
      double x = number(element, "x");
      double y = number(element, "y");
      List<Spot> corners =
          List.of(
              new Spot(x, y),
              new Spot(x + number(element, "width"), y + number(element, "height")));
      shapes.add(new Shape("rect", element.getAttribute("class"), 0, corners, 0));
    }
    for (Element element : elements(picture, "circle")) {
      List<Spot> middle = List.of(new Spot(number(element, "cx"), number(element, "cy")));
      shapes.add(
          new Shape("circle", element.getAttribute("class"), 0, middle, number(element, "r")));
    }
    for (Element element : elements(picture, "path")) {
      String stroke = element.getAttribute("stroke-width");
      shapes.add(
          new Shape(
              element.hasAttribute("stroke-dasharray") ? "dashes" : "path",
              element.getAttribute("class"),
              stroke.isEmpty() ? 0 : Double.parseDouble(stroke),
              corners(element.getAttribute("d")),
              0));
    }
    return shapes;
  }

  List<Shape> shapes(String kind, String look) {
    return shapes().stream()
        .filter(shape -> shape.kind().equals(kind) && shape.look().equals(look))
        .toList();
  }

  private static List<Spot> corners(String path) {
    List<Spot> corners = new ArrayList<>();
    Matcher command = COMMAND.matcher(path);
    double x = 0;
    double y = 0;
    while (command.find()) {
      double[] to =
          Arrays.stream(command.group(2).trim().split(" ", -1))
              .filter(word -> !word.isEmpty())
              .mapToDouble(Double::parseDouble)
              .toArray();
      switch (command.group(1)) {
        case "H" -> x = to[0];
        case "V" -> y = to[0];
        case "Z" -> {
          continue;
        }
        default -> {
          x = to[0];
          y = to[1];
        }
      }
      corners.add(new Spot(x, y));
    }
    return corners;
  }

  /** Turns places into values by two figures of one side. */
  record Side(double place, double value, double otherPlace, double otherValue) {
    double value(double at) {
      return value + (at - place) * (otherValue - value) / (otherPlace - place);
    }
  }

  Side across(String figure, String other) {
    Words first = words(figure, words -> words.anchor().equals("middle"));
    Words second = words(other, words -> words.anchor().equals("middle"));
    return new Side(first.x(), value(figure), second.x(), value(other));
  }

  Side upward(String figure, String other) {
    Words first = words(figure, words -> words.anchor().equals("end"));
    Words second = words(other, words -> words.anchor().equals("end"));
    return new Side(
        first.y() - FIGURE_MIDDLE, value(figure), second.y() - FIGURE_MIDDLE, value(other));
  }

  private static double value(String figure) {
    return figure.equals("plan")
        ? 0
        : Double.parseDouble(figure.replace('−', '-').replace(" g", ""));
  }
}
