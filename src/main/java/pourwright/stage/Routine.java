package pourwright.stage;

import java.util.List;

/**
 * Everything a stage plan is made from; all times in whole seconds from the start of the clock.
 *
 * @param stations 1 to 8, in the order in which they stand
 * @param limitSeconds the event's time limit
 * @param reserveSeconds of it to be left unused
 * @param leftToRight whether brewers are started in the order in which they stand
 * @param patienceSeconds longest time a drained bed may wait for its next pour or for the lift
 * @param servedWithinSeconds from the first cup served to the last; 0 for no such rule
 */
public record Routine(
    List<Station> stations,
    HandTimes hands,
    Kettle kettle,
    List<Speech> speeches,
    int limitSeconds,
    int reserveSeconds,
    boolean leftToRight,
    int patienceSeconds,
    int servedWithinSeconds) {

  public Routine {
    stations = List.copyOf(stations);
    speeches = List.copyOf(speeches);
    if (stations.isEmpty() || stations.size() > 8) {
      throw new IllegalArgumentException("1 to 8 brewers can be planned, not " + stations.size());
    }
    if (limitSeconds < 1 || reserveSeconds < 0 || reserveSeconds >= limitSeconds) {
      throw new IllegalArgumentException(
          "a limit of " + limitSeconds + " s with a reserve of " + reserveSeconds + " s");
    }
    if (patienceSeconds < 0 || servedWithinSeconds < 0) {
      throw new IllegalArgumentException("times must not be negative");
    }
  }

  /** A routine with common times and no speech. */
  public static Routine of(List<Station> stations, int limitSeconds) {
    return new Routine(
        stations, HandTimes.COMMON, Kettle.COMMON, List.of(), limitSeconds, 20, true, 20, 0);
  }

  /** Last second at which the routine may end. */
  public int endBySeconds() {
    return limitSeconds - reserveSeconds;
  }

  public Routine withStations(List<Station> others) {
    return new Routine(
        others,
        hands,
        kettle,
        speeches,
        limitSeconds,
        reserveSeconds,
        leftToRight,
        patienceSeconds,
        servedWithinSeconds);
  }

  public Routine withSpeeches(List<Speech> others) {
    return new Routine(
        stations,
        hands,
        kettle,
        others,
        limitSeconds,
        reserveSeconds,
        leftToRight,
        patienceSeconds,
        servedWithinSeconds);
  }

  public Routine withKettle(Kettle other) {
    return new Routine(
        stations,
        hands,
        other,
        speeches,
        limitSeconds,
        reserveSeconds,
        leftToRight,
        patienceSeconds,
        servedWithinSeconds);
  }

  public Routine withHands(HandTimes other) {
    return new Routine(
        stations,
        other,
        kettle,
        speeches,
        limitSeconds,
        reserveSeconds,
        leftToRight,
        patienceSeconds,
        servedWithinSeconds);
  }

  public Routine withLimit(int limit, int reserve) {
    return new Routine(
        stations,
        hands,
        kettle,
        speeches,
        limit,
        reserve,
        leftToRight,
        patienceSeconds,
        servedWithinSeconds);
  }

  public Routine withServedWithin(int seconds) {
    return new Routine(
        stations,
        hands,
        kettle,
        speeches,
        limitSeconds,
        reserveSeconds,
        leftToRight,
        patienceSeconds,
        seconds);
  }
}
