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

  private static final double CRITICAL_KELVIN = 647.096;
  private static final double CRITICAL_PASCALS = 22.064e6;
  private static final double[] VAPOUR_FACTOR = {
    -7.85951783, 1.84408259, -11.7866497, 22.6807411, -15.9618719, 1.80122502
  };
  private static final double[] VAPOUR_POWER = {1, 1.5, 3, 3.5, 4, 7.5};

  /** Latent heat at 0, 20, … 100 °C (J/kg), IAPWS-95. */
  private static final double[] LATENT = {
    2501.0e3, 2453.5e3, 2406.0e3, 2357.7e3, 2308.0e3, 2256.4e3
  };

  private static final double LATENT_STEP_CELSIUS = 20;

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

  /**
   * Pressure of its vapour (Pa), within 0.1 %.
   *
   * <p>W. Wagner and A. Pruß, J. Phys. Chem. Ref. Data 31 (2002) 387, eq. 2.5 (coefficients from
   * memory, held to tabulated values by tests).
   */
  public double vapourPascals() {
    double kelvin = celsius + KELVIN_AT_ZERO_CELSIUS;
    double distance = 1 - kelvin / CRITICAL_KELVIN;
    double exponent = 0;
    for (int term = 0; term < VAPOUR_FACTOR.length; term++) {
      exponent += VAPOUR_FACTOR[term] * Math.pow(distance, VAPOUR_POWER[term]);
    }
    return CRITICAL_PASCALS * Math.exp(CRITICAL_KELVIN / kelvin * exponent);
  }

  /** Heat that goes with what evaporates (J/kg), within 0.05 %: a line between tabulated values. */
  public double latentJoulesPerKilogram() {
    int below = (int) Math.min(celsius / LATENT_STEP_CELSIUS, LATENT.length - 2.0);
    double part = celsius / LATENT_STEP_CELSIUS - below;
    return LATENT[below] + part * (LATENT[below + 1] - LATENT[below]);
  }
}
