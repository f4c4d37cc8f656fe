package pourwright.bed;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class ShapeTest {
  @Test
  void flat_bottom_is_volume_over_area() {
    Shape flat = new Shape.FlatBottom(0.04);
    assertThat(flat.depthMetres(100)).isCloseTo(100e-6 / (Math.PI * 0.0016), within(1e-12));
    assertThat(flat.slowness(0.02)).isCloseTo(0.02 / (Math.PI * 0.0016), within(1e-9));
  }

  @Test
  void a_narrow_cone_is_a_tube() {
    Shape tube = new Shape.FlatBottom(0.03);
    Shape cone = new Shape.Cone(1e-6, 0.03);
    assertThat(cone.depthMetres(80)).isCloseTo(tube.depthMetres(80), within(1e-6));
    assertThat(cone.slowness(0.03) / tube.slowness(0.03)).isCloseTo(1, within(1e-4));
  }

  @Test
  void a_cone_holds_a_third_of_base_times_height() {
    // outlet so small that the frustum is a cone: V = π r² h / 3 with r = h tan 30°
    Shape cone = Shape.Cone.ofDegrees(60, 1e-6);
    double depth = cone.depthMetres(100);
    double radius = depth * Math.tan(Math.toRadians(30));
    assertThat(Math.PI * radius * radius * depth / 3 * 1e6).isCloseTo(100, within(0.01));
  }

  @Test
  void slowness_of_a_cone_is_the_integral_over_its_slices() {
    Shape cone = Shape.Cone.ofDegrees(60, 0.006);
    double sum = 0;
    int slices = 20_000;
    for (int i = 0; i < slices; i++) {
      double z = (i + 0.5) * 0.05 / slices;
      double radius = 0.006 + z * Math.tan(Math.toRadians(30));
      sum += 0.05 / slices / (Math.PI * radius * radius);
    }
    assertThat(cone.slowness(0.05)).isCloseTo(sum, within(1e-5 * sum));
  }

  @ParameterizedTest
  @ValueSource(doubles = {0, -1, Double.NaN})
  void drippers_without_size_are_refused(double metres) {
    assertThatThrownBy(() -> new Shape.FlatBottom(metres))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> Shape.Cone.ofDegrees(60, metres))
        .isInstanceOf(IllegalArgumentException.class);
  }

  @ParameterizedTest
  @ValueSource(doubles = {0, 180, -10, Double.NaN})
  void cones_that_do_not_open_upwards_are_refused(double degrees) {
    assertThatThrownBy(() -> Shape.Cone.ofDegrees(degrees, 0.005))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("cone");
  }
}
