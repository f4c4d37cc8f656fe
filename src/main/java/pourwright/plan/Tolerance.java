package pourwright.plan;

import java.time.Duration;
import pourwright.units.Flow;
import pourwright.units.Mass;

/**
 * How far a pour may be off and still be well placed; each limit is positive and counts both ways.
 * Common practice, no source: ±2 g and ±2 s.
 */
public record Tolerance(Mass mass, Duration start, Flow flow) {
  public static final Tolerance COMMON =
      new Tolerance(Mass.ofMilligrams(2_000), Duration.ofSeconds(2), Flow.ofGramsPerSecond(1.0));
}
