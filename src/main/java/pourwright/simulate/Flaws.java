package pourwright.simulate;

/**
 * What is wrong with one simulated scale beyond its {@link ScaleTraits}, each with a size that is
 * known exactly.
 *
 * @param deadSeconds by which it hears of a load too late (s)
 * @param error of a load in the middle that has come to rest
 * @param corners of a load that does not stand in the middle
 * @param creep of a load that stays
 * @param warmUp of zero after the start
 * @param freezeGrams changes of less than this are not shown (g)
 * @param placingSpreadGrams standard deviation from placing to placing (g)
 */
public record Flaws(
    double deadSeconds,
    LoadError error,
    Corners corners,
    Creep creep,
    WarmUp warmUp,
    double freezeGrams,
    double placingSpreadGrams) {
  /** The load up to which the bow reaches (g). */
  public static final double FULL_GRAMS = 500;

  public static final Flaws NONE =
      new Flaws(
          0, new LoadError(0, 0, 0), new Corners(0, 0), new Creep(0, 60), new WarmUp(0, 120), 0, 0);

  /**
   * What a load shows too much.
   *
   * @param spanShare for every gram on it (g/g)
   * @param bowGrams at half of {@link #FULL_GRAMS}, none at zero and at full (g)
   * @param hysteresisGrams at half the greatest load when coming down from it (g)
   */
  public record LoadError(double spanShare, double bowGrams, double hysteresisGrams) {}

  /**
   * What a load shows too much for every gram, away from the middle.
   *
   * @param rightShare when it stands halfway to the right (g/g)
   * @param backShare when it stands halfway to the back (g/g)
   */
  public record Corners(double rightShare, double backShare) {}

  /**
   * How a load grows that stays.
   *
   * @param share by which it has grown in the end (g/g)
   * @param seconds time constant of that (s)
   */
  public record Creep(double share, double seconds) {}

  /**
   * How zero wanders after the start.
   *
   * @param grams by which it is off at first (g)
   * @param seconds time constant by which that goes away (s)
   */
  public record WarmUp(double grams, double seconds) {}

  /** How much too much a load that comes up shows once it has settled (g). */
  public double errorGrams(double loadGrams) {
    double part = loadGrams / FULL_GRAMS;
    return error.spanShare() * loadGrams + 4 * error.bowGrams() * part * (1 - part);
  }

  /** How much more is shown at {@code loadGrams} on the way down from {@code greatestGrams}. */
  public double hysteresis(double loadGrams, double greatestGrams) {
    return greatestGrams <= 0
        ? 0
        : error.hysteresisGrams() * Math.sin(Math.PI * Math.min(1, loadGrams / greatestGrams));
  }

  public Flaws withDeadSeconds(double seconds) {
    return new Flaws(seconds, error, corners, creep, warmUp, freezeGrams, placingSpreadGrams);
  }

  public Flaws withSpanShare(double share) {
    return with(new LoadError(share, error.bowGrams(), error.hysteresisGrams()));
  }

  public Flaws withBowGrams(double grams) {
    return with(new LoadError(error.spanShare(), grams, error.hysteresisGrams()));
  }

  public Flaws withHysteresisGrams(double grams) {
    return with(new LoadError(error.spanShare(), error.bowGrams(), grams));
  }

  private Flaws with(LoadError other) {
    return new Flaws(deadSeconds, other, corners, creep, warmUp, freezeGrams, placingSpreadGrams);
  }

  public Flaws withCorners(double rightShare, double backShare) {
    Corners uneven = new Corners(rightShare, backShare);
    return new Flaws(deadSeconds, error, uneven, creep, warmUp, freezeGrams, placingSpreadGrams);
  }

  public Flaws withCreep(double share, double seconds) {
    Creep slow = new Creep(share, seconds);
    return new Flaws(deadSeconds, error, corners, slow, warmUp, freezeGrams, placingSpreadGrams);
  }

  public Flaws withWarmUp(double grams, double seconds) {
    WarmUp cold = new WarmUp(grams, seconds);
    return new Flaws(deadSeconds, error, corners, creep, cold, freezeGrams, placingSpreadGrams);
  }

  public Flaws withFreezeGrams(double grams) {
    return new Flaws(deadSeconds, error, corners, creep, warmUp, grams, placingSpreadGrams);
  }

  public Flaws withPlacingSpreadGrams(double grams) {
    return new Flaws(deadSeconds, error, corners, creep, warmUp, freezeGrams, grams);
  }
}
