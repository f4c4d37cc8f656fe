package pourwright.device.ble.link;

import java.time.Duration;

/**
 * How long each step of a link may take. All are own choices, made so that a scale that comes back
 * is weighing again within seconds.
 *
 * @param settle how long the search goes on after the first scale that fits, for a stronger one
 * @param kin how long the search waits for the very service before it looks into devices that call
 *     themselves a scale in general
 * @param loyal how long a lost scale is waited for before another one that fits is taken; it may
 *     have come back under a new address
 * @param search how long one search runs before it is begun afresh
 * @param connect longest wait for a connection
 * @param resolve longest wait for the services of a connected device
 * @param unfit how long a connected device may seem not to offer what the profile reads
 * @param subscribe longest wait for the scale to accept that we listen
 * @param firstReading longest wait for the first weight after that
 * @param quiet longest pause between weights of a working scale
 * @param nudge how long a renewed subscription may take to bring weights back
 * @param release longest wait for a connection to end
 * @param breather wait after a connection ended by itself: a scale that switches itself off still
 *     announces itself for a moment, and a connection begun then comes to nothing
 * @param shortestPause wait after a first failure; doubled with each further one
 * @param longestPause upper limit of that
 */
public record LinkLimits(
    Duration settle,
    Duration kin,
    Duration loyal,
    Duration search,
    Duration connect,
    Duration resolve,
    Duration unfit,
    Duration subscribe,
    Duration firstReading,
    Duration quiet,
    Duration nudge,
    Duration release,
    Duration breather,
    Duration shortestPause,
    Duration longestPause) {

  /** For a scale whose longest pause is {@code quiet}. */
  public static LinkLimits usual(Duration quiet) {
    return new LinkLimits(
        Duration.ofMillis(1000),
        Duration.ofSeconds(3),
        Duration.ofSeconds(10),
        Duration.ofSeconds(20),
        Duration.ofSeconds(10),
        Duration.ofSeconds(15),
        Duration.ofSeconds(2),
        Duration.ofSeconds(10),
        Duration.ofSeconds(3),
        quiet,
        Duration.ofSeconds(2),
        Duration.ofSeconds(3),
        Duration.ofMillis(500),
        Duration.ofMillis(250),
        Duration.ofSeconds(4));
  }

  /** The wait after {@code failures} attempts in a row have failed, at least one. */
  Duration pauseAfter(int failures) {
    int doublings = Math.min(failures - 1, 10);
    Duration pause = shortestPause.multipliedBy(1L << doublings);
    return pause.compareTo(longestPause) < 0 ? pause : longestPause;
  }
}
