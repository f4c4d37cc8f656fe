package pourwright.detect;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

class LinearFitTest {

  /** y = 3 - 2 x + x²/2 at x = 0 to 4. */
  @Test
  void finds_the_coefficients_of_what_fits() {
    LinearFit fit = new LinearFit(3);
    for (int x = 0; x <= 4; x++) {
      fit.add(new double[] {1, x, x * x}, 3 - 2 * x + x * x / 2.0);
    }
    assertThat(fit.solve()).isCloseTo(0, within(1e-6));
    assertThat(fit.coefficient(0)).isCloseTo(3, within(1e-6));
    assertThat(fit.coefficient(1)).isCloseTo(-2, within(1e-6));
    assertThat(fit.coefficient(2)).isCloseTo(0.5, within(1e-6));
  }

  /** The mean of 1, 2 and 6 is 3; the squares about it are 4 + 1 + 9. Twice, after clearing. */
  @Test
  void tells_what_does_not_fit() {
    LinearFit fit = new LinearFit(1);
    for (int again = 0; again < 2; again++) {
      fit.clear();
      for (double y : new double[] {1, 2, 6}) {
        fit.add(new double[] {1}, y);
      }
      assertThat(fit.solve()).isCloseTo(14, within(1e-6));
      assertThat(fit.coefficient(0)).isCloseTo(3, within(1e-6));
    }
  }
}
