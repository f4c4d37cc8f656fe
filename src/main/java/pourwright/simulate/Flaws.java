package pourwright.simulate;

/**
 * What is wrong with one simulated scale beyond its {@link ScaleTraits}, each with a size that is
 * known exactly.
 *
 * @param deadSeconds by which it hears of a load too late (s)
 * @param spanShare shown too much per gram on it (g/g)
 * @param bowGrams shown too much at half of {@link #FULL_GRAMS}, none at zero and at full (g)
 * @param hysteresisGrams shown more at half the greatest load when coming down from it (g)
 * @param cornerRightShare shown too much per gram when the load stands halfway to the right
 * @param cornerBackShare the same when it stands halfway to the back
 * @param creepShare by which a load that stays grows in the end (g/g)
 * @param creepSeconds time constant of that (s)
 * @param warmUpGrams by which zero is off at the start (g)
 * @param warmUpSeconds time constant by which that goes away (s)
 * @param freezeGrams changes of less than this are not shown (g)
 * @param placingSpreadGrams standard deviation from placing to placing (g)
 */
public record Flaws(
    double deadSeconds,
    double spanShare,
    double bowGrams,
    double hysteresisGrams,
    double cornerRightShare,
    double cornerBackShare,
    double creepShare,
    double creepSeconds,
    double warmUpGrams,
    double warmUpSeconds,
    double freezeGrams,
    double placingSpreadGrams) {
  /** The load up to which the bow reaches (g). */
  public static final double FULL_GRAMS = 500;

  public static final Flaws NONE = new Flaws(0, 0, 0, 0, 0, 0, 0, 60, 0, 120, 0, 0);

  /** How much too much a load that comes up shows once it has settled (g). */
  public double errorGrams(double loadGrams) {
    double part = loadGrams / FULL_GRAMS;
    return spanShare * loadGrams + 4 * bowGrams * part * (1 - part);
  }

  /** How much more is shown at {@code loadGrams} on the way down from {@code greatestGrams}. */
  public double hysteresis(double loadGrams, double greatestGrams) {
    return greatestGrams <= 0
        ? 0
        : hysteresisGrams * Math.sin(Math.PI * Math.min(1, loadGrams / greatestGrams));
  }

  public Flaws withDeadSeconds(double seconds) {
    return new Flaws(
        seconds,
        spanShare,
        bowGrams,
        hysteresisGrams,
        cornerRightShare,
        cornerBackShare,
        creepShare,
        creepSeconds,
        warmUpGrams,
        warmUpSeconds,
        freezeGrams,
        placingSpreadGrams);
  }

  public Flaws withSpanShare(double share) {
    return new Flaws(
        deadSeconds,
        share,
        bowGrams,
        hysteresisGrams,
        cornerRightShare,
        cornerBackShare,
        creepShare,
        creepSeconds,
        warmUpGrams,
        warmUpSeconds,
        freezeGrams,
        placingSpreadGrams);
  }

  public Flaws withBowGrams(double grams) {
    return new Flaws(
        deadSeconds,
        spanShare,
        grams,
        hysteresisGrams,
        cornerRightShare,
        cornerBackShare,
        creepShare,
        creepSeconds,
        warmUpGrams,
        warmUpSeconds,
        freezeGrams,
        placingSpreadGrams);
  }

  public Flaws withHysteresisGrams(double grams) {
    return new Flaws(
        deadSeconds,
        spanShare,
        bowGrams,
        grams,
        cornerRightShare,
        cornerBackShare,
        creepShare,
        creepSeconds,
        warmUpGrams,
        warmUpSeconds,
        freezeGrams,
        placingSpreadGrams);
  }

  public Flaws withCorners(double rightShare, double backShare) {
    return new Flaws(
        deadSeconds,
        spanShare,
        bowGrams,
        hysteresisGrams,
        rightShare,
        backShare,
        creepShare,
        creepSeconds,
        warmUpGrams,
        warmUpSeconds,
        freezeGrams,
        placingSpreadGrams);
  }

  public Flaws withCreep(double share, double seconds) {
    return new Flaws(
        deadSeconds,
        spanShare,
        bowGrams,
        hysteresisGrams,
        cornerRightShare,
        cornerBackShare,
        share,
        seconds,
        warmUpGrams,
        warmUpSeconds,
        freezeGrams,
        placingSpreadGrams);
  }

  public Flaws withWarmUp(double grams, double seconds) {
    return new Flaws(
        deadSeconds,
        spanShare,
        bowGrams,
        hysteresisGrams,
        cornerRightShare,
        cornerBackShare,
        creepShare,
        creepSeconds,
        grams,
        seconds,
        freezeGrams,
        placingSpreadGrams);
  }

  public Flaws withFreezeGrams(double grams) {
    return new Flaws(
        deadSeconds,
        spanShare,
        bowGrams,
        hysteresisGrams,
        cornerRightShare,
        cornerBackShare,
        creepShare,
        creepSeconds,
        warmUpGrams,
        warmUpSeconds,
        grams,
        placingSpreadGrams);
  }

  public Flaws withPlacingSpreadGrams(double grams) {
    return new Flaws(
        deadSeconds,
        spanShare,
        bowGrams,
        hysteresisGrams,
        cornerRightShare,
        cornerBackShare,
        creepShare,
        creepSeconds,
        warmUpGrams,
        warmUpSeconds,
        freezeGrams,
        grams);
  }
}
