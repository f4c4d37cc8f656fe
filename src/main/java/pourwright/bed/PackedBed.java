package pourwright.bed;

import pourwright.water.Water;

/**
 * Permeability of loose grains: a first guess before any run has been measured, and a check that
 * slow flow is slow enough.
 *
 * <p>Plain grain sizes do not predict real coffee beds (Corrochano et al., J. Food Eng. 150 (2015)
 * 106): fines fill the room between the grains. So a fitted value always goes before this one.
 *
 * @param grainMetres diameter of the grains (m)
 * @param porosity share of the bed that is not grain, between 0 and 1
 */
public record PackedBed(double grainMetres, double porosity) {
  /** Standard gravity (m/s²). */
  static final double GRAVITY = 9.80665;

  private static final double KOZENY_CARMAN = 180;
  private static final double ERGUN_VISCOUS = 150;
  private static final double ERGUN_INERTIAL = 1.75;

  public PackedBed {
    if (!(grainMetres > 0 && porosity > 0 && porosity < 1)) {
      throw new IllegalArgumentException(
          "grains need a size and a porosity between 0 and 1, not " + porosity);
    }
  }

  /** Permeability (m²) by Kozeny and Carman with the constant 180. */
  public double permeability() {
    double solid = 1 - porosity;
    return grainMetres * grainMetres * Math.pow(porosity, 3) / (KOZENY_CARMAN * solid * solid);
  }

  /** Hydraulic conductivity (m/s) of a permeability (m²) for water. */
  public static double conductivity(double permeability, Water water) {
    return permeability * GRAVITY / water.squareMetresPerSecond();
  }

  /** Permeability (m²) of a hydraulic conductivity (m/s) found with water. */
  public static double permeability(double conductivity, Water water) {
    return conductivity * water.squareMetresPerSecond() / GRAVITY;
  }

  /**
   * Pressure lost along a bed by S. Ergun, Chem. Eng. Prog. 48 (1952) 89 (Pa).
   *
   * @param speed flow over the whole cross-section (m/s)
   * @param density of the fluid (kg/m³)
   * @param viscosity of the fluid (Pa·s)
   * @param lengthMetres along the flow (m)
   */
  public double pressureLoss(double speed, double density, double viscosity, double lengthMetres) {
    return (viscous(speed, viscosity) + inertial(speed, density)) * lengthMetres;
  }

  /** The share of the pressure loss that Darcy's law leaves out, 0 to 1. */
  public double inertialShare(double speed, Water water) {
    double inertial = inertial(speed, water.kilogramsPerCubicMetre());
    return inertial / (inertial + viscous(speed, water.pascalSeconds()));
  }

  private double viscous(double speed, double viscosity) {
    double solid = 1 - porosity;
    return ERGUN_VISCOUS
        * viscosity
        * speed
        * solid
        * solid
        / (Math.pow(porosity, 3) * grainMetres * grainMetres);
  }

  private double inertial(double speed, double density) {
    return ERGUN_INERTIAL
        * density
        * speed
        * Math.abs(speed)
        * (1 - porosity)
        / (Math.pow(porosity, 3) * grainMetres);
  }
}
