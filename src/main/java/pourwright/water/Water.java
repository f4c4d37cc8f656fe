package pourwright.water;

import pourwright.units.Mass;

/**
 * Pure liquid water at atmospheric pressure.
 *
 * <p>Density by G. S. Kell, J. Chem. Eng. Data 20 (1975) 97, as quoted by F. E. Jones and G. L.
 * Harris, J. Res. NIST 97 (1992) 335, eq. 1. Viscosity by the supplementary release of the IAPWS on
 * liquid water at 0.1 MPa (SR6-08, coefficients from memory, held to tabulated values by tests).
 *
 * @param celsius temperature (°C), 0 to 100
 */
public record Water(double celsius) {
  private static final double KELVIN_AT_ZERO_CELSIUS = 273.15;
  private static final double VISCOSITY_KELVIN = 300;

  /** Numerator of Kell's density, rising powers of °C (kg/m³). */
  private static final double[] KELL = {
    999.83952, 16.945176, -7.9870401e-3, -46.170461e-6, 105.56302e-9, -280.54253e-12
  };

  /** Denominator of Kell's density (1/°C). */
  private static final double KELL_DIVISOR = 16.879850e-3;

  private static final double[] VISCOSITY_FACTOR = {280.68, 511.45, 61.131, 0.45903};
  private static final double[] VISCOSITY_POWER = {-1.9, -7.7, -19.6, -40.0};

  /**
   * Water at a temperature.
   *
   * @throws IllegalArgumentException when it would be ice or steam
   */
  public Water {
    if (!(celsius >= 0 && celsius <= 100)) {
      throw new IllegalArgumentException("water is liquid from 0 to 100 °C, not at " + celsius);
    }
  }

  public static Water atCelsius(double celsius) {
    return new Water(celsius);
  }

  /** Density (kg/m³), standard uncertainty about 0.01 kg/m³. */
  public double kilogramsPerCubicMetre() {
    double numerator = 0;
    for (int power = KELL.length - 1; power >= 0; power--) {
      numerator = numerator * celsius + KELL[power];
    }
    return numerator / (1 + KELL_DIVISOR * celsius);
  }

  /** Dynamic viscosity (Pa·s), within 1 %. */
  public double pascalSeconds() {
    double reduced = (celsius + KELVIN_AT_ZERO_CELSIUS) / VISCOSITY_KELVIN;
    double micropascalSeconds = 0;
    for (int term = 0; term < VISCOSITY_FACTOR.length; term++) {
      micropascalSeconds += VISCOSITY_FACTOR[term] * Math.pow(reduced, VISCOSITY_POWER[term]);
    }
    return micropascalSeconds * 1e-6;
  }

  /** Kinematic viscosity (m²/s): drain times through one bed go with it. */
  public double squareMetresPerSecond() {
    return pascalSeconds() / kilogramsPerCubicMetre();
  }

  /** The room that a mass of it takes (mL). */
  public double millilitres(Mass mass) {
    return mass.grams() / (kilogramsPerCubicMetre() / 1000);
  }

  /** The mass of a volume of it. */
  public Mass mass(double millilitres) {
    return Mass.ofGrams(millilitres * kilogramsPerCubicMetre() / 1000);
  }
}
