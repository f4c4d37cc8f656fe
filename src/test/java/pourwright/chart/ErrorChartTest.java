package pourwright.chart;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;

class ErrorChartTest {
  @Test
  void what_is_beyond_the_yardstick_has_a_shape_of_its_own() {
    String svg =
        ErrorChart.draw(
            "errors",
            List.of(
                new ErrorChart.Point(50, 0.02, -0.05, 0.09, 0.1),
                new ErrorChart.Point(200, 0.8, 0.7, 0.9, 0.2)));
    assertThat(svg).contains("aria-label=\"errors\"", "50 g", "200 g", "+0.90 g", "0 g");
    assertThat(svg).containsOnlyOnce("<circle");
    assertThat(svg).contains("class=\"fill-outside\"");
  }

  @Test
  void errors_that_are_all_nothing_still_have_a_scale() {
    assertThat(ErrorChart.draw("none", List.of(new ErrorChart.Point(50, 0, 0, 0, 0))))
        .contains("<circle", "50 g");
  }
}
