package pourwright.bench;

/**
 * What is asked of one family. Times in s, masses in g; wrong pours per 200. Not a number: nothing
 * is asked.
 */
record Target(
    Spread liveStart,
    Spread liveEnd,
    double liveWrong,
    Spread start,
    Spread end,
    Spread mass,
    double wrong,
    Spread drained) {

  /** Largest median and 95th percentile. */
  record Spread(double median, double p95) {
    static final Spread NONE = new Spread(Double.NaN, Double.NaN);
  }

  static final Target NONE =
      new Target(
          Spread.NONE,
          Spread.NONE,
          Double.NaN,
          Spread.NONE,
          Spread.NONE,
          Spread.NONE,
          Double.NaN,
          Spread.NONE);

  /** Shared by the families dropout, tare, split and pulses. */
  static final Target MIDDLING = of(0.65, 0.95, 1.1, 1.4, 1, 0.07, 0.20, 0.09, 0.25, 0.08, 0.40, 0);

  static Target of(
      double liveStartMedian,
      double liveStartP95,
      double liveEndMedian,
      double liveEndP95,
      double liveWrong,
      double startMedian,
      double startP95,
      double endMedian,
      double endP95,
      double massMedian,
      double massP95,
      double wrong) {
    return new Target(
        new Spread(liveStartMedian, liveStartP95),
        new Spread(liveEndMedian, liveEndP95),
        liveWrong,
        new Spread(startMedian, startP95),
        new Spread(endMedian, endP95),
        new Spread(massMedian, massP95),
        wrong,
        Spread.NONE);
  }

  Target withDrained(double median, double p95) {
    return new Target(
        liveStart, liveEnd, liveWrong, start, end, mass, wrong, new Spread(median, p95));
  }
}
