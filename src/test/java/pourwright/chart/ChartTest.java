package pourwright.chart;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.w3c.dom.Element;

class ChartTest {

  private static List<Element> elements(String svg, String name) throws Exception {
    return ReadChart.elements(ReadChart.parsed(svg), name);
  }

  private static List<String> texts(String svg) throws Exception {
    return elements(svg, "text").stream().map(Element::getTextContent).toList();
  }

  @Test
  void an_axis_maps_both_ends_and_clips_what_lies_beyond() {
    Axis axis = new Axis(-2, 2, 100, 300);
    assertThat(axis.at(-2)).isEqualTo(100);
    assertThat(axis.at(0)).isEqualTo(200);
    assertThat(axis.clipped(9)).isEqualTo(300);
    assertThatThrownBy(() -> new Axis(1, 1, 0, 1)).isInstanceOf(IllegalArgumentException.class);
  }

  @Test
  void ticks_are_round_and_labelled_with_the_decimals_they_need() {
    assertThat(new Axis(0, 264, 0, 1).ticks(5)).containsExactly(0.0, 100.0, 200.0);
    assertThat(new Axis(0, 10, 0, 1).ticks(5)).containsExactly(0.0, 2.0, 4.0, 6.0, 8.0, 10.0);
    Axis fine = new Axis(-0.1, 0.35, 0, 1);
    assertThat(fine.ticks(4).stream().map(tick -> fine.label(tick, 4)))
        .containsExactly("0.0", "0.2");
    Axis below = new Axis(-3, 0, 0, 1);
    assertThat(below.label(-2, 3)).isEqualTo("−2");
    assertThat(new Axis(0, 7, 0, 1).ticks(1)).containsExactly(0.0);
    assertThat(new Axis(0, 70, 0, 1).ticks(10)).hasSize(8);
  }

  @Test
  void numbers_are_short_and_never_minus_zero() {
    assertThat(Drawing.number(12)).isEqualTo("12");
    assertThat(Drawing.number(1.5)).isEqualTo("1.5");
    assertThat(Drawing.number(1.239)).isEqualTo("1.24");
    assertThat(Drawing.number(-0.001)).isEqualTo("0");
  }

  @Test
  void hostile_words_stay_words() throws Exception {
    String hostile = "</text><script>alert(1)</script> & \"x\" \u0000\uD800";
    String svg =
        HabitChart.draw(
            hostile, List.of(new HabitChart.Row(hostile, hostile, 0, 0, 0, 0, hostile)));
    assertThat(elements(svg, "script")).isEmpty();
    assertThat(texts(svg)).anyMatch(text -> text.contains("<script>alert(1)</script> & \"x\""));
    assertThat(ReadChart.parsed(svg).getDocumentElement().getAttribute("aria-label"))
        .contains("alert(1)");
  }

  @Test
  void a_mark_outside_tolerance_has_another_shape_and_not_only_another_colour() throws Exception {
    String inside =
        HabitChart.draw("x", List.of(new HabitChart.Row("pour 1", "start", 0.2, 0, 0.4, 0.3, "")));
    String outside =
        HabitChart.draw("x", List.of(new HabitChart.Row("pour 1", "start", 1.2, 1, 1.4, 0.3, "")));
    assertThat(elements(inside, "circle")).hasSize(1);
    assertThat(elements(outside, "circle")).isEmpty();
    assertThat(outside).contains("fill-outside");
  }

  @Test
  void a_mean_lies_where_it_belongs_and_never_off_the_chart() throws Exception {
    String svg =
        HabitChart.draw(
            "x",
            List.of(
                new HabitChart.Row("pour 1", "water", 0, -0.1, 0.1, 0.1, ""),
                new HabitChart.Row("", "start", -0.5, -0.6, -0.4, 0.1, "")));
    List<Element> dots = elements(svg, "circle");
    double middle = Double.parseDouble(dots.get(0).getAttribute("cx"));
    double left = Double.parseDouble(dots.get(1).getAttribute("cx"));
    assertThat(left).isLessThan(middle);
    String far = HabitChart.draw("x", List.of(new HabitChart.Row("", "water", 99, 98, 100, 9, "")));
    assertThat(far).doesNotContain("NaN").doesNotContain("Infinity");
    for (Element path : elements(far, "path")) {
      for (String number : path.getAttribute("d").split("[A-Za-z ]+", -1)) {
        if (!number.isEmpty()) {
          assertThat(Double.parseDouble(number)).isBetween(-1.0, Drawing.PAPER_WIDTH + 1);
        }
      }
    }
  }

  @Test
  void runs_are_drawn_over_the_corridor_with_the_main_one_last() throws Exception {
    CorridorChart.Band band =
        new CorridorChart.Band(
            new double[] {0, 10, 20},
            new double[] {0, 40, 48},
            new double[] {0, 50, 50},
            new double[] {2, 52, 52});
    double[] seconds = {0, 5, 10};
    double[] grams = {0, 30, 55};
    for (int others : new int[] {1, 6, 20}) {
      List<CorridorChart.Trace> traces =
          new ArrayList<>(
              Collections.nCopies(others, new CorridorChart.Trace(seconds, grams, false)));
      traces.add(0, new CorridorChart.Trace(seconds, grams, true));
      List<Element> paths = elements(CorridorChart.draw("x", band, traces), "path");
      assertThat(paths.get(0).getAttribute("class")).isEqualTo("fill-corridor");
      assertThat(paths.get(paths.size() - 1).getAttribute("class")).isEqualTo("stroke-now");
      assertThat(paths).filteredOn(path -> path.hasAttribute("stroke-opacity")).hasSize(others);
    }
  }

  @Test
  void an_empty_trace_is_no_line() throws Exception {
    CorridorChart.Band band =
        new CorridorChart.Band(
            new double[] {0, 1}, new double[] {0, 0}, new double[] {0, 1}, new double[] {0, 2});
    String svg =
        CorridorChart.draw(
            "x", band, List.of(new CorridorChart.Trace(new double[0], new double[0], false)));
    assertThat(svg).doesNotContain("NaN");
    assertThat(ReadChart.parsed(svg).getDocumentElement().getTagName()).isEqualTo("svg");
  }

  @Test
  void the_course_marks_blind_runs_outliers_and_the_way_it_goes() throws Exception {
    List<CourseChart.Point> points =
        List.of(
            new CourseChart.Point(0.9, CourseChart.Mark.GUIDED, false),
            new CourseChart.Point(0.8, CourseChart.Mark.BLIND, false),
            new CourseChart.Point(4.0, CourseChart.Mark.GUIDED, true));
    String clear =
        CourseChart.draw(
            "x", "index", points, 1, Optional.of(new CourseChart.Way(0.9, -0.1, true)));
    assertThat(texts(clear)).contains("blind", "guided", "apart from the rest", "run", "index");
    assertThat(clear).contains("stroke-now").doesNotContain("stroke-dasharray");
    String unclear =
        CourseChart.draw(
            "x", "index", points, 1, Optional.of(new CourseChart.Way(0.9, -0.1, false)));
    assertThat(unclear).contains("stroke-dasharray");
    String alone = CourseChart.draw("x", "index", points.subList(0, 1), 1, Optional.empty());
    assertThat(texts(alone)).contains("1").doesNotContain("blind", "apart from the rest");
  }

  @Test
  void every_cup_has_its_bars_and_the_last_is_named() throws Exception {
    CupChart.Region region = new CupChart.Region(18, 22, 1.15, 1.35);
    String svg =
        CupChart.draw(
            "x",
            List.of(
                new CupChart.Cup(20, 0.8, 1.25, 0.06, false),
                new CupChart.Cup(29, 0.8, 1.9, 0.06, true)),
            region);
    assertThat(elements(svg, "circle")).hasSize(2);
    assertThat(texts(svg)).contains("last", "extraction, %", "strength, %");
    Element box = elements(svg, "rect").get(0);
    Element first = elements(svg, "circle").get(0);
    double x = Double.parseDouble(first.getAttribute("cx"));
    double left = Double.parseDouble(box.getAttribute("x"));
    assertThat(x).isBetween(left, left + Double.parseDouble(box.getAttribute("width")));
  }

  @Test
  void a_row_shows_clean_runs_full_and_others_open_with_their_misses() throws Exception {
    String svg = RowChart.draw("x", List.of(0, 2, 0));
    assertThat(elements(svg, "rect")).hasSize(2);
    assertThat(texts(svg)).containsExactly("2");
    assertThat(RowChart.draw("x", Collections.nCopies(40, 0))).doesNotContain("width=\"-");
    assertThat(elements(RowChart.draw("x", List.of()), "rect")).isEmpty();
  }
}
