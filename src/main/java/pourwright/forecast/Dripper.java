package pourwright.forecast;

import pourwright.bed.Shape;

/**
 * What the grounds lie in.
 *
 * @param shape inside
 * @param rimMetres height of the rim above the outlet (m), positive
 */
public record Dripper(Shape shape, double rimMetres) {
  /** Walls of 60°, 8 mm to the outlet, 80 mm high; common practice, no source. */
  public static final Dripper CONE = new Dripper(Shape.Cone.ofDegrees(60, 0.008), 0.080);

  /** 75 mm across, 60 mm high; common practice, no source. */
  public static final Dripper FLAT = new Dripper(new Shape.FlatBottom(0.0375), 0.060);

  private static final double MOST_MILLILITRES = 10_000;
  private static final int HALVINGS = 60;

  public Dripper {
    if (!(rimMetres > 0 && rimMetres < 1)) {
      throw new IllegalArgumentException("a rim stands above the outlet, not at " + rimMetres);
    }
  }

  /** What it holds up to its rim (mL). */
  public double millilitres() {
    double low = 0;
    double high = MOST_MILLILITRES;
    for (int i = 0; i < HALVINGS; i++) {
      double middle = (low + high) / 2;
      if (shape.depthMetres(middle) < rimMetres) {
        low = middle;
      } else {
        high = middle;
      }
    }
    return low;
  }
}
