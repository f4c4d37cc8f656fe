package pourwright.bed;

/**
 * The closed form of a bed that empties a straight tube above it: {@code k = aL/(At) · ln(h1/h2)},
 * as in every textbook of soil mechanics (B. M. Das, Principles of Geotechnical Engineering, ch.
 * 7). Heads are measured from the outlet of the bed.
 *
 * @param tubeSquareMetres cross-section of the tube in which the water falls (m²)
 * @param bedSquareMetres cross-section of the bed (m²)
 * @param bedMetres depth of the bed (m)
 */
public record FallingHead(double tubeSquareMetres, double bedSquareMetres, double bedMetres) {

  public FallingHead {
    if (!(tubeSquareMetres > 0 && bedSquareMetres > 0 && bedMetres > 0)) {
      throw new IllegalArgumentException("tube and bed must have a size");
    }
  }

  /** A vessel that empties through its own bed: the flat-bottomed dripper. */
  public static FallingHead ofVessel(double squareMetres, double bedMetres) {
    return new FallingHead(squareMetres, squareMetres, bedMetres);
  }

  /**
   * Hydraulic conductivity (m/s) of the bed.
   *
   * @param fromMetres head at first (m)
   * @param toMetres head at last (m), above 0
   * @param seconds time between (s)
   */
  public double conductivity(double fromMetres, double toMetres, double seconds) {
    return scale() / seconds * Math.log(fromMetres / toMetres);
  }

  /** Time (s) for the head to fall, at a conductivity (m/s). */
  public double seconds(double fromMetres, double toMetres, double conductivity) {
    return scale() / conductivity * Math.log(fromMetres / toMetres);
  }

  /** Head (m) after some time. */
  public double headMetres(double fromMetres, double seconds, double conductivity) {
    return fromMetres * Math.exp(-conductivity * seconds / scale());
  }

  private double scale() {
    return tubeSquareMetres * bedMetres / bedSquareMetres;
  }
}
