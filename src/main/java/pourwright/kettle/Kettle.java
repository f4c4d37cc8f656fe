package pourwright.kettle;

import pourwright.units.Mass;
import pourwright.water.Water;

/**
 * A kettle as heat sees it: one body of water and metal at one temperature.
 *
 * <p>It loses heat to the room by convection in proportion to the difference (Newton's law of
 * cooling), and with the water that evaporates. Evaporation goes by the pond formula of the ASHRAE
 * Handbook, HVAC Applications, in SI units, which was fitted to pools: in a kettle it is a sanity
 * bound. The convection is best learned from one cooling, see {@link Cooling}.
 *
 * @param holds water when full, positive
 * @param emptyJoulesPerKelvin heat that the empty kettle takes up (J/K), not negative
 * @param wattsPerKelvin loss by convection (W/K), not negative
 * @param openSquareMetres water that sees the air through spout and lid (m²), 0 when closed
 * @param heaterWatts of its base (W), 0 without one
 */
public record Kettle(
    Mass holds,
    double emptyJoulesPerKelvin,
    double wattsPerKelvin,
    double openSquareMetres,
    double heaterWatts) {

  /** Heat capacity of hot water (J/(kg·K)): IAPWS-95 has 4184 at 20 °C and 4211 at 96 °C. */
  static final double JOULES_PER_KILOGRAM_KELVIN = 4_195;

  private static final double POND_STILL = 0.089;
  private static final double POND_PER_AIR_SPEED = 0.0782;

  /** A steel kettle of nine decilitres on an electric base; own choice. */
  public static final Kettle USUAL = new Kettle(Mass.ofGrams(900), 250, 0.6, 4e-4, 1_000);

  public Kettle {
    if (holds.compareTo(Mass.ZERO) <= 0
        || !(emptyJoulesPerKelvin >= 0)
        || !(wattsPerKelvin >= 0)
        || !(openSquareMetres >= 0)
        || !(heaterWatts >= 0)) {
      throw new IllegalArgumentException("a kettle holds water and loses heat, not less than none");
    }
  }

  /** The same kettle with another loss by convection (W/K). */
  public Kettle losing(double watts) {
    return new Kettle(holds, emptyJoulesPerKelvin, watts, openSquareMetres, heaterWatts);
  }

  /**
   * Heat that it takes to warm it by one degree (J/K).
   *
   * @param kilograms of water in it; less than none counts as none
   */
  public double joulesPerKelvin(double kilograms) {
    return Math.max(0, kilograms) * JOULES_PER_KILOGRAM_KELVIN + emptyJoulesPerKelvin;
  }

  double convectionWatts(double celsius, Room room) {
    return wattsPerKelvin * (celsius - room.celsius());
  }

  /** Water that leaves as vapour (kg/s). */
  double evaporation(double celsius, Room room) {
    Water water = Water.atCelsius(Math.min(100, celsius));
    double kilopascals = Math.max(0, water.vapourPascals() - room.vapourPascals()) / 1_000;
    double kilojoules = water.latentJoulesPerKilogram() / 1_000;
    return (POND_STILL + POND_PER_AIR_SPEED * room.airMetresPerSecond())
        * kilopascals
        / kilojoules
        * openSquareMetres;
  }
}
