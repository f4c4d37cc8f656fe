package pourwright.performance;

import java.util.List;
import pourwright.statistic.Line;

/**
 * How a weight that should stay wanders.
 *
 * @param perMinute slope (g/min)
 * @param change last less first (g)
 * @param early slope of the first half (g/min)
 * @param late slope of the second half (g/min)
 */
public record Drift(Estimate perMinute, Estimate change, Estimate early, Estimate late) {
  private static final double SECONDS_PER_MINUTE = 60;

  /**
   * Of plateaus of the same load, in order.
   *
   * @param same at least three; six for the halves to be told apart
   */
  public static Drift of(List<Plateau> same, Display display) {
    if (same.size() < 3) {
      throw new IllegalArgumentException("drift needs three plateaus, has " + same.size());
    }
    Plateau first = same.get(0);
    Plateau last = same.get(same.size() - 1);
    double change = last.grams() - first.grams();
    double u =
        Math.hypot(
            display.plateauUncertainty(first.count()), display.plateauUncertainty(last.count()));
    Estimate whole = slope(same, display);
    int half = same.size() / 2;
    boolean isLong = half >= 3;
    return new Drift(
        whole,
        Estimate.of(change, u, Double.POSITIVE_INFINITY),
        isLong ? slope(same.subList(0, half), display) : whole,
        isLong ? slope(same.subList(half, same.size()), display) : whole);
  }

  /** Whether the early half drifts otherwise than the late one, as a scale that warms up does. */
  public boolean isWarmingUp() {
    double apart = Math.abs(early.value() - late.value());
    return apart > Math.hypot(early.halfWidth(), late.halfWidth())
        && Math.abs(early.value()) > Math.abs(late.value());
  }

  private static Estimate slope(List<Plateau> same, Display display) {
    double[] minutes = same.stream().mapToDouble(one -> one.at() / SECONDS_PER_MINUTE).toArray();
    double[] grams = same.stream().mapToDouble(Plateau::grams).toArray();
    Line line = Line.of(minutes, grams);
    double mean = java.util.Arrays.stream(minutes).average().orElse(0);
    double sxx = java.util.Arrays.stream(minutes).map(m -> (m - mean) * (m - mean)).sum();
    double floor =
        same.stream()
            .mapToDouble(one -> display.plateauUncertainty(one.count()))
            .average()
            .orElse(0);
    // a rounded zero that never changed has no scatter, and yet may have moved within its step
    double scatter = Math.max(line.residualStandardDeviation(), floor);
    double freedom =
        line.residualStandardDeviation() > floor ? line.freedom() : Double.POSITIVE_INFINITY;
    return Estimate.of(line.slope(), scatter / Math.sqrt(sxx), freedom);
  }
}
