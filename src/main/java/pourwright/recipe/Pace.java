package pourwright.recipe;

import java.time.Duration;

/** What starts the pours after the first. */
public sealed interface Pace {

  /** From the start of one pour to the start of the next; for a drained bed the expected time. */
  Duration interval();

  /** A pour every so often by the clock. */
  record ByClock(Duration interval) implements Pace {}

  /** Each pour when the bed has drained, thought to take about the interval. */
  record WhenDrained(Duration interval) implements Pace {}
}
