package pourwright.metrology;

/**
 * How air carries part of a load.
 *
 * <p>Source: NIST form of the buoyancy correction, as coded in the R package masscor.
 */
public final class AirBuoyancy {
  /** Ordinary air near sea level (kg/m³). */
  public static final double ORDINARY_AIR_KG_PER_M3 = 1.2;

  /** The density by which weights are marked (kg/m³), OIML D 28. */
  public static final double CONVENTIONAL_WEIGHT_KG_PER_M3 = 8000;

  private AirBuoyancy() {}

  /**
   * True mass per indicated mass of a scale set with conventional weights.
   *
   * @param airKgPerM3 density of the air
   * @param loadKgPerM3 density of what is weighed
   */
  public static double factor(double airKgPerM3, double loadKgPerM3) {
    return (1 - airKgPerM3 / CONVENTIONAL_WEIGHT_KG_PER_M3) / (1 - airKgPerM3 / loadKgPerM3);
  }
}
