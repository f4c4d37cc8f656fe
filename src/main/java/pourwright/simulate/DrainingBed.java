package pourwright.simulate;

/**
 * Coffee in a dripper: takes up water while it is wetted, holds some back for good, lets the rest
 * through ever more slowly as its fines settle.
 *
 * <p>Darcy's law for a bed that empties through itself: the flow is proportional to the head, which
 * is the bed's own height plus the slurry over it, so the slurry is gone after a finite time. Gas
 * that leaves fresh coffee blocks the bed at first. The figures are choices that give drain times
 * of common practice; no source.
 */
final class DrainingBed {
  /** Water kept per mass of dry coffee (common practice, no source: about 2). */
  static final double RETAINED_PER_DOSE = 2.0;

  private static final double WETTING_SECONDS = 5.0;
  private static final double HEAD_SECONDS = 60.0;
  private static final double BED_FLOW = 1.7; // g/s through the wet bed without slurry
  private static final double GAS_SECONDS = 60.0;
  private static final double GASSY_FLOW = 0.05;
  private static final double SETTLING_PER_POUR = 0.97;
  private static final double DRIP_SECONDS = 0.8;

  private final double capacityGrams;
  private final double permeability;

  private double slurryGrams;
  private double heldGrams;
  private double dripGrams;
  private double secondsSinceWet = -1;
  private double settling = 1;
  private boolean ranDry;

  /**
   * @param permeability relative to a usual grind; 1 is usual
   */
  DrainingBed(double doseGrams, double permeability) {
    this.capacityGrams = RETAINED_PER_DOSE * doseGrams;
    this.permeability = permeability;
  }

  /**
   * Moves on.
   *
   * @param arrivedGrams water that landed meanwhile (g)
   * @return what dripped into the server meanwhile (g)
   */
  double step(double seconds, double arrivedGrams) {
    ranDry = false;
    if (arrivedGrams > 0 && secondsSinceWet < 0) {
      secondsSinceWet = 0;
    }
    if (secondsSinceWet < 0) {
      return 0;
    }
    secondsSinceWet += seconds;
    slurryGrams += arrivedGrams;
    double wetted = Math.min(slurryGrams, (capacityGrams - heldGrams) * seconds / WETTING_SECONDS);
    heldGrams += wetted;
    slurryGrams -= wetted;
    boolean wasWet = slurryGrams > 0;
    double through = Math.min(slurryGrams, flow() * seconds);
    slurryGrams -= through;
    ranDry = wasWet && slurryGrams <= 0;
    dripGrams += through;
    double out = dripGrams * seconds / DRIP_SECONDS;
    dripGrams -= out;
    return out;
  }

  private double flow() {
    double free = -Math.expm1(-Math.pow(secondsSinceWet / GAS_SECONDS, 4));
    double open = GASSY_FLOW + (1 - GASSY_FLOW) * free;
    return permeability * settling * open * (BED_FLOW + slurryGrams / HEAD_SECONDS);
  }

  /** A pour ended: fines settle. */
  void settle() {
    settling *= SETTLING_PER_POUR;
  }

  /** Takes away what left as vapour. */
  double evaporate(double grams) {
    double gone = Math.min(heldGrams, grams);
    heldGrams -= gone;
    return gone;
  }

  boolean isWet() {
    return slurryGrams > 0;
  }

  /** Whether the last slurry went in the last step. */
  boolean ranDry() {
    return ranDry;
  }
}
