package pourwright.detect;

/**
 * Gives readings of a bursty link their times back, without looking ahead.
 *
 * <p>A link can only delay. So the reading was taken no later than it arrived, no earlier than the
 * longest hold-up seen lately allows, and one period after the reading before it; the period comes
 * from counting readings over the last hundred or so.
 */
final class SampleClock {
  private static final int SPAN = 128;
  private static final int ENOUGH = 8;

  /** Part by which the remembered hold-up fades with every reading (own choice). */
  private static final double FADE = 0.01;

  private final double[] arrivals = new double[SPAN];
  private long count;
  private double time;
  private double arrival;
  private double longestWait;

  /** Forgets the phase and the count, as after missing readings; the period is kept. */
  void restart() {
    double kept = period();
    count = 0;
    longestWait = 0;
    fallbackPeriod = kept;
  }

  private double fallbackPeriod;

  /** Mean time between readings (s); 0 before it is known. */
  double period() {
    int known = (int) Math.min(count, SPAN);
    if (known < ENOUGH) {
      return fallbackPeriod;
    }
    double first = arrivals[(int) ((count - known) % SPAN)];
    return (arrival - first) / (known - 1);
  }

  /**
   * The time at which the reading that has just arrived was taken.
   *
   * @param arrivedAt (s)
   * @return never after {@code arrivedAt}, never before the reading before it (s)
   */
  double timeOf(double arrivedAt) {
    boolean isFirst = count == 0;
    double wait = isFirst ? 0 : arrivedAt - arrival;
    arrivals[(int) (count % SPAN)] = arrivedAt;
    arrival = arrivedAt;
    count++;
    if (isFirst) {
      time = Math.max(time, arrivedAt);
      return time;
    }
    double period = period();
    longestWait = Math.max(wait, longestWait + FADE * (period - longestWait));
    double expected = time + period;
    double taken = Math.min(arrivedAt, Math.max(expected, arrivedAt - longestWait));
    time = Math.max(time, taken);
    return time;
  }
}
