package pourwright.forecast;

import java.time.Duration;
import pourwright.units.Flow;

/**
 * What a brew should keep to.
 *
 * @param mostFlow that the kettle gives
 * @param time from the first water until the bed has drained
 * @param coolerCelsius how much below the plan the kettle may fall (K)
 */
public record Limits(Flow mostFlow, Duration time, double coolerCelsius) {
  /**
   * Flow: own choice. Time: common practice, no source. Temperature: the Golden Cup Standard of
   * 2015 has 93 ± 3 °C.
   */
  public static final Limits USUAL =
      new Limits(Flow.ofGramsPerSecond(12), Duration.ofMinutes(4), 3);

  public Limits {
    if (mostFlow.compareTo(Flow.ZERO) <= 0 || time.isNegative() || !(coolerCelsius >= 0)) {
      throw new IllegalArgumentException("a limit leaves room for a brew");
    }
  }
}
