package pourwright.bed;

import pourwright.units.Mass;
import pourwright.water.Water;

/**
 * Grounds in a dripper.
 *
 * <p>Shape and volume only have to be the same when fitting and predicting: an error in them goes
 * into the fitted permeability.
 *
 * @param shape inside of the dripper
 * @param millilitres room that the wet grounds take (mL)
 * @param keeps water that stays in them
 */
public record Bed(Shape shape, double millilitres, Mass keeps) {
  /** Wet grounds per gram of dose (mL/g); common practice, no source. */
  private static final double MILLILITRES_PER_GRAM = 2.9;

  /** Water kept per gram of dose (g/g); common practice, no primary source. */
  private static final double KEPT_PER_GRAM = 2.0;

  public Bed {
    if (!(millilitres > 0) || keeps.isNegative()) {
      throw new IllegalArgumentException("a bed takes room and keeps water, not less than none");
    }
  }

  /** The usual bed of a dose. */
  public static Bed ofDose(Shape shape, Mass dose) {
    return new Bed(
        shape, dose.grams() * MILLILITRES_PER_GRAM, Mass.ofGrams(dose.grams() * KEPT_PER_GRAM));
  }

  /**
   * Darcy's law for the surface at a height: all the head from surface to outlet drives the flow
   * through the bed (mL/s).
   *
   * @param standingMillilitres water above the bed (mL); negative when the surface is in the bed
   * @param permeability of the bed (m²)
   */
  double outflow(double standingMillilitres, double permeability, Water water) {
    double filled = Math.max(0, millilitres + standingMillilitres);
    double head = shape.depthMetres(filled);
    double slowness = shape.slowness(shape.depthMetres(millilitres));
    return PackedBed.conductivity(permeability, water)
        * head
        / slowness
        / Shape.CUBIC_METRES_PER_MILLILITRE;
  }

  /** How far the surface stands above the bed (m). */
  double slurryMetres(double standingMillilitres) {
    return shape.depthMetres(millilitres + standingMillilitres) - shape.depthMetres(millilitres);
  }
}
