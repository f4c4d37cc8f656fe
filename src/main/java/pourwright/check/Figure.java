package pourwright.check;

import java.util.Locale;
import pourwright.performance.Estimate;

/**
 * One figure of a scale.
 *
 * @param key stable name for files, with its unit
 * @param name in plain words
 * @param unit of the estimate
 * @param note what it holds for, may be empty
 */
public record Figure(String key, String name, String unit, Estimate estimate, String note) {
  private static final int MOST_PLACES = 4;
  private static final int EXACT_PLACES = 2;

  /** The value with as many places as its uncertainty is worth. */
  public String valueText() {
    return plain(estimate.value());
  }

  /** Both ends of the interval. */
  public String intervalText() {
    return estimate.low() == estimate.high()
        ? "exact"
        : plain(estimate.low()) + " to " + plain(estimate.high());
  }

  private String plain(double value) {
    String text = String.format(Locale.ROOT, "%." + places() + "f", value);
    return text.matches("-0(\\.0*)?") ? text.substring(1) : text;
  }

  private int places() {
    double half = estimate.halfWidth();
    return half == 0
        ? EXACT_PLACES
        : (int) Math.max(0, Math.min(MOST_PLACES, 1 - Math.floor(Math.log10(half))));
  }
}
