package pourwright.statistic;

/**
 * Where a value lies, with how much confidence.
 *
 * @param low lower limit, in the unit of the value; may be negative infinity
 * @param high upper limit, not below {@code low}
 * @param confidence between 0 and 1, both excluded
 */
public record Interval(double low, double high, double confidence) {

  public Interval {
    if (!(low <= high)) {
      throw new IllegalArgumentException("interval from " + low + " to " + high);
    }
    requireConfidence(confidence);
  }

  static void requireConfidence(double confidence) {
    if (!(confidence > 0 && confidence < 1)) {
      throw new IllegalArgumentException("confidence must lie between 0 and 1: " + confidence);
    }
  }

  public boolean contains(double value) {
    return low <= value && value <= high;
  }

  public double width() {
    return high - low;
  }
}
