package pourwright.stage;

/**
 * How much a brewer scatters; standard deviations. The defaults are our own guess at a practised
 * hand: use your own.
 *
 * @param pourGrams water of a pour about what was planned (g)
 * @param startSeconds start of a pour about the moment aimed at (s)
 * @param flowPercent flow about the planned one (%)
 * @param drainPercent drain time of a bed about the expected one (%)
 * @param chorePercent time for a chore or a walk about the usual one (%)
 */
public record Spreads(
    double pourGrams,
    double startSeconds,
    double flowPercent,
    double drainPercent,
    double chorePercent) {
  public static final Spreads PRACTISED = new Spreads(1.0, 0.7, 6, 6, 12);

  public Spreads {
    for (double spread :
        new double[] {pourGrams, startSeconds, flowPercent, drainPercent, chorePercent}) {
      if (!(spread >= 0 && spread <= 100)) {
        throw new IllegalArgumentException("a spread lies between 0 and 100, not at " + spread);
      }
    }
  }
}
