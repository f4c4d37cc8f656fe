package pourwright.chart;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;
import pourwright.chart.ReadChart.Shape;
import pourwright.chart.ReadChart.Side;
import pourwright.chart.ReadChart.Spot;

/** Charts read back from their pictures say what was drawn, and nothing stands on anything else. */
class ReadChartTest {
  /** Places are written with two decimals. */
  private static final Offset<Double> READ = within(0.006);

  private static void reads(Spot spot, Side across, double x, Side upward, double y) {
    assertThat(across.value(spot.x())).isCloseTo(x, READ);
    assertThat(upward.value(spot.y())).isCloseTo(y, READ);
  }

  @Test
  void a_course_shows_every_run_its_mark_its_limit_and_its_way() throws Exception {
    List<CourseChart.Point> points =
        List.of(
            new CourseChart.Point(0.9, CourseChart.Mark.GUIDED, false),
            new CourseChart.Point(0.8, CourseChart.Mark.BLIND, false),
            new CourseChart.Point(4.0, CourseChart.Mark.GUIDED, true));
    for (boolean isClear : new boolean[] {true, false}) {
      ReadChart chart =
          new ReadChart(
              CourseChart.draw(
                  "x", "index", points, 1, Optional.of(new CourseChart.Way(0.9, -0.1, isClear))));
      Side x = chart.across("1", "3");
      Side y = chart.upward("0", "4");
      List<Shape> guided = chart.shapes("circle", "fill-ink");
      reads(guided.get(1).middle(), x, 1, y, 0.9);
      reads(guided.get(2).middle(), x, 3, y, 4);
      List<Shape> blind = chart.shapes("rect", "fill-ink");
      reads(blind.get(1).middle(), x, 2, y, 0.8);
      assertThat(chart.shapes("rect", "fill-paper").get(1).middle())
          .isEqualTo(blind.get(1).middle());
      List<Shape> apart = chart.shapes("path", "stroke-outside");
      reads(apart.get(1).middle(), x, 3, y, 4);
      Shape inside = chart.shapes("rect", "fill-corridor").get(0);
      reads(new Spot(inside.left(), inside.top()), x, 0.5, y, 1);
      reads(new Spot(inside.right(), inside.bottom()), x, 3.5, y, 0);
      Shape way =
          isClear
              ? chart.shapes("path", "stroke-now").get(0)
              : chart.shapes("dashes", "stroke-rule").get(0);
      reads(way.corners().get(0), x, 1, y, 0.9);
      reads(way.corners().get(1), x, 3, y, 0.7);

      // the signs of the words above the chart stand before their words, at the same height
      assertBefore(guided.get(0), chart.words("guided"));
      assertBefore(blind.get(0), chart.words("blind"));
      assertBefore(apart.get(0), chart.words("apart from the rest"));
    }
  }

  private static void assertBefore(Shape sign, ReadChart.Words words) {
    assertThat(words.left() - sign.right()).isBetween(-1.0, 20.0);
    assertThat(sign.middle().y()).isCloseTo(words.y() - 4, within(1.0));
  }

  @Test
  void a_course_that_stays_inside_still_shows_its_limit_whole() throws Exception {
    List<CourseChart.Point> points = new ArrayList<>();
    IntStream.rangeClosed(1, 40)
        .forEach(run -> points.add(new CourseChart.Point(0.2, CourseChart.Mark.GUIDED, false)));
    ReadChart chart = new ReadChart(CourseChart.draw("x", "index", points, 1, Optional.empty()));
    Side y = chart.upward("0.0", "1.0");
    assertThat(y.value(chart.shapes("rect", "fill-corridor").get(0).top())).isCloseTo(1, READ);
    assertThat(chart.across("10", "40").value(chart.shapes("circle", "fill-ink").get(8).left() + 4))
        .isCloseTo(8, READ);
  }

  @Test
  void a_cup_shows_its_bars_and_the_region() throws Exception {
    ReadChart chart =
        new ReadChart(
            CupChart.draw(
                "x",
                List.of(
                    new CupChart.Cup(20, 0.8, 1.25, 0.06, false),
                    new CupChart.Cup(26, 0.5, 1.7, 0.04, true),
                    new CupChart.Cup(13, 0.9, 0.7, 0.09, false)),
                new CupChart.Region(18, 22, 1.15, 1.35)));
    Side x = chart.across("15", "25");
    Side y = chart.upward("0.8", "1.6");
    Shape region = chart.shapes("rect", "fill-corridor").get(0);
    reads(new Spot(region.left(), region.top()), x, 18, y, 1.35);
    reads(new Spot(region.right(), region.bottom()), x, 22, y, 1.15);

    Shape first = chart.shapes("circle", "fill-ink").get(0);
    reads(first.middle(), x, 20, y, 1.25);
    Shape last = chart.shapes("circle", "fill-now").get(0);
    reads(last.middle(), x, 26, y, 1.7);
    assertThat(last.radius()).isGreaterThan(first.radius());
    List<Shape> bars = chart.shapes("path", "stroke-now");
    reads(bars.get(0).corners().get(0), x, 25.5, y, 1.7);
    reads(bars.get(0).corners().get(1), x, 26.5, y, 1.7);
    reads(bars.get(1).corners().get(0), x, 26, y, 1.66);
    reads(bars.get(1).corners().get(1), x, 26, y, 1.74);
    assertThat(chart.shapes("path", "stroke-ink"))
        .filteredOn(bar -> bar.stroke() < 1)
        .hasSize(4)
        .allSatisfy(bar -> assertThat(bar.stroke()).isLessThan(bars.get(0).stroke()));
    ReadChart.Words word = chart.words("last");
    assertThat(word.isBold()).isTrue();
    assertThat(word.left() - last.right()).isBetween(0.0, 8.0);
    assertThat(last.middle().y() - word.y()).isBetween(0.0, 16.0);
    ticksReachOut(chart, 3 + 6);
  }

  /**
   * Short lines out of the axes: as many as there are figures, each at the middle of its figure.
   */
  private static void ticksReachOut(ReadChart chart, int atLeast) {
    List<Shape> ticks =
        chart.shapes("path", "stroke-ink").stream()
            .filter(line -> line.right() - line.left() + line.bottom() - line.top() < 5.5)
            .toList();
    assertThat(ticks).hasSizeGreaterThanOrEqualTo(atLeast);
    assertThat(ticks)
        .allSatisfy(
            tick ->
                assertThat(chart.words())
                    .anyMatch(
                        words ->
                            tick.left() == tick.right()
                                ? words.x() == tick.left() && words.y() > tick.bottom() + 9
                                : Math.abs(words.y() - 4 - tick.top()) < 0.01
                                    && words.right() < tick.left()));
  }

  @Test
  void a_check_shows_every_load_its_error_and_what_is_allowed() throws Exception {
    ReadChart chart =
        new ReadChart(
            ErrorChart.draw(
                "x",
                List.of(
                    new ErrorChart.Point(50, 0.02, -0.05, 0.09, 0.1),
                    new ErrorChart.Point(100, -0.1, -0.15, -0.05, 0.1),
                    new ErrorChart.Point(200, 0.8, 0.7, 0.9, 0.2))));
    Side y = chart.upward("−0.90 g", "+0.90 g");
    assertThat(y.value(chart.words("0 g").y() - 4)).isCloseTo(0, READ);
    Side x = chart.across("50 g", "100 g");
    List<Shape> inside = chart.shapes("circle", "fill-now");
    reads(inside.get(0).middle(), x, 50, y, 0.02);
    reads(inside.get(1).middle(), x, 100, y, -0.1);
    Shape beyond = chart.shapes("path", "fill-outside").get(0);
    assertThat(y.value(beyond.middle().y())).isCloseTo(0.8, READ);
    assertThat(x.value(beyond.middle().x())).isCloseTo(200, within(0.1));
    List<Shape> bars =
        chart.shapes("path", "stroke-ink").stream().filter(line -> line.stroke() == 2).toList();
    assertThat(bars).hasSize(9);
    Shape bar = bars.get(3);
    reads(bar.corners().get(0), x, 100, y, -0.15);
    reads(bar.corners().get(1), x, 100, y, -0.05);
    for (Shape cap : List.of(bars.get(4), bars.get(5))) {
      assertThat(cap.middle().x()).isCloseTo(bar.middle().x(), within(0.01));
      assertThat(cap.right() - cap.left()).isGreaterThan(4);
    }
    List<Shape> allowed = chart.shapes("rect", "fill-corridor");
    reads(new Spot(allowed.get(0).right(), allowed.get(0).top()), x, 50, y, 0.1);
    reads(new Spot(allowed.get(1).left(), allowed.get(1).bottom()), x, 50, y, -0.1);
    reads(new Spot(allowed.get(1).right(), allowed.get(1).top()), x, 100, y, 0.1);
    assertThat(x.value(allowed.get(2).left())).isCloseTo(100, within(0.1));
    assertThat(x.value(allowed.get(2).right())).isCloseTo(200, within(0.1));
    assertThat(y.value(allowed.get(2).top())).isCloseTo(0.2, READ);
    assertThat(y.value(allowed.get(2).bottom())).isCloseTo(-0.2, READ);
  }

  @Test
  void a_habit_shows_its_mean_where_it_can_lie_and_its_spread() throws Exception {
    ReadChart chart =
        new ReadChart(
            HabitChart.draw(
                "x",
                List.of(
                    new HabitChart.Row("pour 1", "water", 0.5, 0.3, 0.7, 0.9, "+1.0 g"),
                    new HabitChart.Row("pour 2", "start", -1.5, -1.9, -1.1, 0.2, "−3.0 s"),
                    new HabitChart.Row("", "flow", 1, 0.9, 1.1, 5, "+1.0 g/s"))));
    Side x = chart.across("plan", "+3");
    assertThat(x.value(chart.words("−2").x())).isCloseTo(-2, READ);
    Shape corridor = chart.shapes("rect", "fill-corridor").get(0);
    assertThat(x.value(corridor.left())).isCloseTo(-1, READ);
    assertThat(x.value(corridor.right())).isCloseTo(1, READ);
    Shape mean = chart.shapes("circle", "fill-now").get(0);
    assertThat(x.value(mean.middle().x())).isCloseTo(0.5, READ);
    Shape off = chart.shapes("path", "fill-outside").get(0);
    assertThat(x.value(off.middle().x())).isCloseTo(-1.5, READ);
    Shape where = chart.shapes("path", "stroke-outside").get(0);
    assertThat(x.value(where.left())).isCloseTo(-1.9, READ);
    assertThat(x.value(where.right())).isCloseTo(-1.1, READ);
    List<Shape> spreads = chart.shapes("path", "stroke-ink");
    assertThat(x.value(spreads.get(0).left())).isCloseTo(-0.4, READ);
    assertThat(x.value(spreads.get(0).right())).isCloseTo(1.4, READ);
    // farther than the chart goes
    assertThat(x.value(spreads.get(2).left())).isCloseTo(-3, READ);
    assertThat(x.value(spreads.get(2).right())).isCloseTo(3, READ);

    // each row's words at the height of its marks, rows apart, a rule above a further pour
    assertThat(chart.words("water").y() - 4).isEqualTo(mean.middle().y());
    assertThat(chart.words("pour 1").y()).isEqualTo(chart.words("water").y());
    assertThat(chart.words("+1.0 g").y()).isEqualTo(chart.words("water").y());
    assertThat(chart.words("start").y() - 4).isCloseTo(off.middle().y(), within(0.01));
    List<Shape> rules =
        chart.shapes("path", "stroke-rule").stream()
            .filter(rule -> rule.top() == rule.bottom())
            .toList();
    assertThat(rules).hasSize(1);
    assertThat(rules.get(0).top())
        .isCloseTo((mean.middle().y() + off.middle().y()) / 2, within(0.01));
    assertThat(corridor.bottom()).isGreaterThan(chart.shapes("circle", "fill-now").get(1).bottom());
  }

  @Test
  void limits_of_a_habit_are_still_inside() throws Exception {
    ReadChart chart =
        new ReadChart(
            HabitChart.draw(
                "x",
                List.of(
                    new HabitChart.Row("pour 1", "water", 1, 1, 1, 0, ""),
                    new HabitChart.Row("pour 2", "water", -1, -1, -1, 0, ""))));
    assertThat(chart.shapes("circle", "fill-now")).hasSize(2);
  }

  @Test
  void a_row_of_runs_fits_however_many_they_are() throws Exception {
    for (int runs : new int[] {1, 7, 30}) {
      List<Integer> misses = new ArrayList<>(Collections.nCopies(runs, 0));
      misses.set(0, 3);
      ReadChart chart = new ReadChart(RowChart.draw("x", misses));
      List<Shape> row = new ArrayList<>(chart.shapes("rect", "fill-now"));
      Shape open = chart.shapes("path", "stroke-outside").get(0);
      assertThat(row).hasSize(runs - 1);
      double right = open.right() + open.stroke() / 2;
      assertThat(chart.words("3").x()).isCloseTo(open.middle().x(), within(0.01));
      assertThat(chart.words("3").y() - 4).isCloseTo(open.middle().y(), within(1.5));
      for (Shape run : row) {
        assertThat(run.left() - right).isCloseTo(4, within(0.02));
        assertThat(run.bottom() - run.top()).isEqualTo(34);
        right = run.right();
      }
      if (runs == 30) {
        assertThat(right).isCloseTo(Drawing.PAPER_WIDTH, within(0.02));
      }
    }
  }

  @Test
  void a_corridor_shows_the_plan_and_every_run() throws Exception {
    double[] seconds = {0, 10, 20};
    CorridorChart.Band band =
        new CorridorChart.Band(
            seconds, new double[] {0, 40, 48}, new double[] {0, 50, 50}, new double[] {2, 52, 53});
    CorridorChart.Trace main =
        new CorridorChart.Trace(new double[] {0, 5, 24}, new double[] {0, 30, 55}, true);
    CorridorChart.Trace other =
        new CorridorChart.Trace(new double[] {0, 6, 12}, new double[] {0, 20, 44}, false);
    ReadChart chart = new ReadChart(CorridorChart.draw("x", band, List.of(main, other)));
    Side x = chart.across("5", "20");
    Side y = chart.upward("20", "40");
    List<Spot> around = chart.shapes("path", "fill-corridor").get(0).corners();
    reads(around.get(0), x, 0, y, 2);
    reads(around.get(1), x, 10, y, 52);
    reads(around.get(2), x, 20, y, 53);
    List<Spot> back = around.subList(around.size() - 3, around.size());
    reads(back.get(0), x, 20, y, 48);
    reads(back.get(1), x, 10, y, 40);
    reads(back.get(2), x, 0, y, 0);
    reads(chart.shapes("path", "stroke-rule").get(0).corners().get(1), x, 10, y, 50);
    List<Spot> run = chart.shapes("path", "stroke-now").get(0).corners();
    reads(run.get(1), x, 5, y, 30);
    reads(run.get(run.size() - 1), x, 24, y, 55);
    assertThat(chart.shapes("path", "stroke-ink"))
        .anySatisfy(line -> reads(line.corners().get(line.corners().size() - 1), x, 12, y, 44));
    ticksReachOut(chart, 5);
  }

  @Test
  void more_runs_are_drawn_fainter_and_long_ones_with_fewer_corners() throws Exception {
    double[] seconds = IntStream.range(0, 9_000).mapToDouble(i -> i / 10.0).toArray();
    double[] grams = IntStream.range(0, 9_000).mapToDouble(i -> i / 30.0).toArray();
    CorridorChart.Band band = new CorridorChart.Band(seconds, grams, grams, grams);
    List<String> faint = new ArrayList<>();
    for (int runs : new int[] {4, 5, 12, 13}) {
      String svg =
          CorridorChart.draw(
              "x", band, Collections.nCopies(runs, new CorridorChart.Trace(seconds, grams, false)));
      List<Shape> lines = new ReadChart(svg).shapes("path", "stroke-ink");
      assertThat(lines.get(lines.size() - 1).corners().size()).isBetween(800, 1_000);
      faint.add(svg.replaceAll("(?s).*stroke-opacity=\"([0-9.]+)\".*", "$1"));
    }
    assertThat(faint).containsExactly("0.7", "0.45", "0.45", "0.3");
  }
}
