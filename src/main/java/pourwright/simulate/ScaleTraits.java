package pourwright.simulate;

/**
 * What one simulated scale does to a weight before it is shown.
 *
 * @param readingsPerSecond how often it speaks (1/s)
 * @param lagSeconds time constant of its filter (s); of each of the two stages when {@code order}
 *     is 2
 * @param order 1 or 2
 * @param noiseGrams standard deviation of white noise (g)
 * @param stepGrams what it rounds to (g)
 * @param driftGramsPerMinute how its zero walks (g/min)
 * @param tracksZero whether it pulls small weights near zero to zero
 * @param readingsPerBurst how many readings its link delivers together, at least 1
 * @param jitterSeconds standard deviation of the link's delay (s)
 */
public record ScaleTraits(
    double readingsPerSecond,
    double lagSeconds,
    int order,
    double noiseGrams,
    double stepGrams,
    double driftGramsPerMinute,
    boolean tracksZero,
    int readingsPerBurst,
    double jitterSeconds) {

  /** A good bench scale. */
  public static final ScaleTraits GOOD =
      new ScaleTraits(10, 0.12, 2, 0.02, 0.1, 0.0, true, 1, 0.004);

  /** Filters hard and speaks seldom. */
  public static final ScaleTraits SLOW =
      new ScaleTraits(5, 0.55, 1, 0.03, 0.1, 0.02, true, 1, 0.01);

  /** A kitchen scale that knows whole grams only. */
  public static final ScaleTraits COARSE =
      new ScaleTraits(8, 0.25, 1, 0.1, 1.0, 0.0, true, 1, 0.01);

  /** A bare load-cell board: fast, noisy, unfiltered. */
  public static final ScaleTraits BOARD =
      new ScaleTraits(80, 0.03, 1, 0.08, 0.01, 0.1, false, 1, 0.002);

  /** A radio link that delivers several readings at once. */
  public static final ScaleTraits BURSTS =
      new ScaleTraits(20, 0.15, 2, 0.03, 0.1, 0.0, true, 4, 0.03);

  /** The mean time by which its display shows a rising weight too late (s). */
  public double displayLagSeconds() {
    return order * lagSeconds + 0.5 / readingsPerSecond;
  }
}
