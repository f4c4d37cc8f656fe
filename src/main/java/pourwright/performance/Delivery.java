package pourwright.performance;

import java.util.Arrays;
import org.hipparchus.stat.StatUtils;

/**
 * How readings come up the link.
 *
 * @param perSecond readings a second (1/s)
 * @param jitterSeconds robust standard deviation of the time from arrival to arrival (s)
 * @param perArrival readings that come together, on average
 * @param gaps how often nothing came for several times the usual wait
 * @param longestGapSeconds the longest wait (s)
 * @param freshShare share of readings that bring a new value while the weight moves fast, 0 to 1;
 *     half means that every value is sent twice
 */
public record Delivery(
    Estimate perSecond,
    double jitterSeconds,
    double perArrival,
    int gaps,
    double longestGapSeconds,
    double freshShare) {
  /** A wait this many times the usual one is a gap; own choice. */
  private static final double GAP_TIMES = 2.5;

  private static final double LEAST_GAP_SECONDS = 0.3;

  /** Scales a median absolute deviation to a standard deviation: 1 / Φ⁻¹(¾). */
  private static final double MAD_TO_SIGMA = 1.482602218505602;

  /**
   * From at least four arrivals.
   *
   * @param moving readings of fast changes, to see which values are sent twice
   */
  public static Delivery of(Series all, java.util.List<StepTrace> moving) {
    double[] arrivals = Arrays.stream(all.toSeconds()).distinct().toArray();
    if (arrivals.length < 4) {
      throw new IllegalArgumentException("needs four arrivals, has " + arrivals.length);
    }
    double[] waits = new double[arrivals.length - 1];
    for (int i = 0; i < waits.length; i++) {
      waits[i] = arrivals[i + 1] - arrivals[i];
    }
    double usual = StatUtils.percentile(waits, 50);
    double[] off = Arrays.stream(waits).map(wait -> Math.abs(wait - usual)).toArray();
    double jitter = MAD_TO_SIGMA * StatUtils.percentile(off, 50);
    double limit = Math.max(LEAST_GAP_SECONDS, GAP_TIMES * usual);
    int gaps = (int) Arrays.stream(waits).filter(wait -> wait > limit).count();
    double[] kept = Arrays.stream(waits).filter(wait -> wait <= limit).toArray();
    double perArrival = all.size() / (double) arrivals.length;
    double meanWait = StatUtils.mean(kept);
    // Arrivals are stamps on a regular clock, so only the two ends of the span are uncertain.
    double span = meanWait * kept.length;
    double relative =
        Math.sqrt(2) * Math.max(jitter, 1e-4) * Math.sqrt(1 + gaps) / span
            + 0.5 * gaps * usual / span;
    double rate = perArrival / meanWait;
    double arrivalDoubt = perArrival > 1 ? 0.5 / arrivals.length : 0;
    return new Delivery(
        Estimate.of(rate, rate * (relative + arrivalDoubt), Double.POSITIVE_INFINITY),
        jitter,
        perArrival,
        gaps,
        Arrays.stream(waits).max().orElse(0),
        freshShare(moving));
  }

  private static double freshShare(java.util.List<StepTrace> moving) {
    int fresh = 0;
    int seen = 0;
    for (StepTrace trace : moving) {
      Series readings = trace.readings();
      for (int i = 1; i < readings.size(); i++) {
        if (trace.isOnTheWay(readings.grams(i)) || trace.isOnTheWay(readings.grams(i - 1))) {
          seen++;
          fresh += readings.grams(i) == readings.grams(i - 1) ? 0 : 1;
        }
      }
    }
    return seen == 0 ? 1 : fresh / (double) seen;
  }
}
