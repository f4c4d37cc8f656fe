package pourwright.forecast;

import java.util.List;
import pourwright.statistic.Sample;

/**
 * A value of the coming brew and its standard uncertainty, both in the unit that its name says.
 *
 * @param value best estimate
 * @param uncertainty not negative
 */
public record Estimate(double value, double uncertainty) {
  /** Fewer values than these tell no spread of their own; own choice. */
  private static final int LEAST_FOR_SPREAD = 3;

  public Estimate {
    if (!Double.isFinite(value) || !(uncertainty >= 0)) {
      throw new IllegalArgumentException("no estimate: " + value + " ± " + uncertainty);
    }
  }

  /** The next value of something seen before; {@code usual} while too few were seen. */
  static Estimate ofSeen(List<Double> seen, Estimate usual) {
    if (seen.isEmpty()) {
      return usual;
    }
    Sample sample = Sample.of(seen.stream().mapToDouble(Double::doubleValue).toArray());
    if (seen.size() < LEAST_FOR_SPREAD) {
      return new Estimate(sample.mean(), usual.uncertainty());
    }
    return new Estimate(
        sample.mean(), sample.standardDeviation() * Math.sqrt(1 + 1.0 / seen.size()));
  }
}
