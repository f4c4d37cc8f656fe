package pourwright.recipe;

import java.time.Duration;

/** What starts the pours after the first. */
public sealed interface Pace {

  /**
   * A pour every so often by the clock.
   *
   * @param interval from the start of one pour to the start of the next
   */
  record ByClock(Duration interval) implements Pace {}

  /**
   * Each pour when the bed has drained.
   *
   * @param interval thought to lie between the start of one pour and the start of the next
   */
  record WhenDrained(Duration interval) implements Pace {}

  /**
   * Each pour a while after the one before.
   *
   * @param gap from the last water of one pour to the first water of the next
   */
  record AfterEnd(Duration gap) implements Pace {}
}
