package pourwright.bed;

/** The inside of a dripper, from its outlet up. */
public sealed interface Shape {
  /** Height (m) of the surface of a filling (mL) above the outlet. */
  double depthMetres(double millilitres);

  /**
   * What the bed's depth and width do to Darcy's law: the integral of dz/A(z) from the outlet up to
   * a depth (1/m).
   */
  double slowness(double depthMetres);

  /**
   * Straight walls.
   *
   * @param radiusMetres inner radius (m)
   */
  record FlatBottom(double radiusMetres) implements Shape {
    public FlatBottom {
      requireSize(radiusMetres);
    }

    double squareMetres() {
      return Math.PI * radiusMetres * radiusMetres;
    }

    @Override
    public double depthMetres(double millilitres) {
      return millilitres * CUBIC_METRES_PER_MILLILITRE / squareMetres();
    }

    @Override
    public double slowness(double depthMetres) {
      return depthMetres / squareMetres();
    }
  }

  /**
   * Walls that open upwards from the outlet.
   *
   * @param halfAngleRadians between wall and axis (rad), between 0 and π/2
   * @param outletMetres radius of the outlet (m)
   */
  record Cone(double halfAngleRadians, double outletMetres) implements Shape {
    public Cone {
      requireSize(outletMetres);
      if (!(halfAngleRadians > 0 && halfAngleRadians < Math.PI / 2)) {
        throw new IllegalArgumentException(
            "a cone opens by 0 to 90° from its axis, not by "
                + Math.toDegrees(halfAngleRadians)
                + "°");
      }
    }

    /** By the full angle between the walls (°); 60° is common practice, no source. */
    public static Cone ofDegrees(double fullAngleDegrees, double outletMetres) {
      return new Cone(Math.toRadians(fullAngleDegrees) / 2, outletMetres);
    }

    @Override
    public double depthMetres(double millilitres) {
      double slope = Math.tan(halfAngleRadians);
      double cubed =
          Math.pow(outletMetres, 3)
              + 3 * millilitres * CUBIC_METRES_PER_MILLILITRE * slope / Math.PI;
      return (Math.cbrt(cubed) - outletMetres) / slope;
    }

    @Override
    public double slowness(double depthMetres) {
      double slope = Math.tan(halfAngleRadians);
      double radius = outletMetres + depthMetres * slope;
      return (1 / outletMetres - 1 / radius) / (Math.PI * slope);
    }
  }

  double CUBIC_METRES_PER_MILLILITRE = 1e-6;

  private static void requireSize(double metres) {
    if (!(metres > 0)) {
      throw new IllegalArgumentException("a dripper must have a size, not " + metres + " m");
    }
  }
}
