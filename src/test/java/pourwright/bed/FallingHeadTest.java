package pourwright.bed;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import pourwright.water.Water;

/** Worked examples of soil mechanics. */
class FallingHeadTest {
  private static double circle(double diameterMetres) {
    return Math.PI * diameterMetres * diameterMetres / 4;
  }

  /**
   * B. M. Das, Principles of Geotechnical Engineering, problem 7.9: sand, 450 to 200 mm in 8 min.
   */
  @Test
  void sand_of_das_problem_7_9() {
    FallingHead sand = new FallingHead(circle(0.011), 7854e-6, 0.4);

    double conductivity = sand.conductivity(0.450, 0.200, 480);

    assertThat(conductivity).isCloseTo(8.17686e-6, within(1e-10));
    // half way in time the head is the geometric mean of first and last
    assertThat(sand.headMetres(0.450, 240, conductivity)).isCloseTo(0.300, within(1e-9));
    // the problem gives 9.789 kN/m³ and 1.005e-3 Pa·s at 20 °C
    assertThat(conductivity * 1.005e-3 / 9789).isCloseTo(8.3949e-13, within(1e-17));
    assertThat(PackedBed.permeability(conductivity, Water.atCelsius(20)))
        .isCloseTo(8.3949e-13, within(0.005 * 8.3949e-13));
  }

  /** Clay, 600 to 450 mm in 12 min (an exercise; its data, recomputed). */
  @Test
  void clay_takes_half_an_hour_to_lose_half_its_head() {
    FallingHead clay = new FallingHead(circle(0.0075), circle(0.098), 0.150);

    double conductivity = clay.conductivity(0.600, 0.450, 720);

    assertThat(conductivity).isCloseTo(3.5103e-7, within(1e-11));
    assertThat(clay.seconds(0.600, 0.300, conductivity)).isCloseTo(1734.78, within(0.01));
  }

  /**
   * One specimen, constant head first, then falling head through twice its length (an exercise).
   */
  @Test
  void constant_and_falling_head_agree_on_one_soil() {
    double area = circle(0.084);
    double darcy = 200e-6 / 60 / (area * 0.360 / 0.250);
    assertThat(darcy).isCloseTo(0.41770e-3, within(1e-8));

    FallingHead column = new FallingHead(circle(0.040), area, 0.500);
    assertThat(column.seconds(1.660, 1.100, darcy)).isCloseTo(111.70, within(0.01));
  }
}
