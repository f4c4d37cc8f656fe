package pourwright.detect;

/**
 * Gives readings of a bursty link their times back, without looking ahead.
 *
 * <p>A link can only delay. So the reading was taken no later than it arrived, no earlier than the
 * longest hold-up seen lately allows, and one period after the reading before it; the period comes
 * from counting readings over the last hundred or so. Readings that were held up come in a hurry;
 * where the next one takes its time, those in between were lost, and time has gone on without them.
 */
final class SampleClock {
  private static final int SPAN = 128;
  private static final int ENOUGH = 8;

  /**
   * Readings after which the clock is set right; more than a link holds up at once (own choice).
   */
  private static final int WHILE = 32;

  /**
   * Part by which the remembered hold-up fades with every reading, and part of a period by which a
   * clock that lags behind catches up (own choice).
   */
  private static final double FADE = 0.01;

  /** What comes sooner than this part of a period was held up (own choice). */
  private static final double HURRY = 0.5;

  /** What is held up by so many times the longest hold-up lately is not yet understood. */
  private static final double UNUSUAL = 1.2;

  /** When the readings arrived (s); NaN for those that had been held up. */
  private final double[] arrivals = new double[SPAN];

  private long count;
  private double time;
  private double arrival;

  /** How late the newest reading was (s). */
  private double late;

  /** How late the promptest reading of this while and of the one before was (s). */
  private double promptest = Double.POSITIVE_INFINITY;

  private double promptestBefore = Double.POSITIVE_INFINITY;

  /** The longest hold-up seen lately (s). */
  private double held;

  /** Time that went by with lost readings (s); it tells nothing of the period. */
  private double lost;

  private double period;

  /** Forgets the phase and the count, as after missing readings; the period is kept. */
  void restart() {
    count = 0;
    held = 0;
    promptest = Double.POSITIVE_INFINITY;
    promptestBefore = Double.POSITIVE_INFINITY;
  }

  /** Mean time between readings (s); 0 before it is known. */
  double period() {
    return period;
  }

  /** Mean time between the readings kept until now (s); 0 while they are too few. */
  private double mean(double arrivedAt) {
    int known = (int) Math.min(count, SPAN);
    // counted from mid burst, too many would have come since
    while (known >= ENOUGH && Double.isNaN(arrivals[(int) ((count - known) % SPAN)])) {
      known--;
    }
    return known < ENOUGH ? 0 : (arrivedAt - arrivals[(int) ((count - known) % SPAN)]) / known;
  }

  /**
   * By how much the clock lags behind (s): some reading of a while is not held up at all, so when
   * even the promptest was late, the count is.
   */
  private double neededLately() {
    promptest = Math.min(promptest, late);
    if (count % WHILE != WHILE - 1) {
      return 0;
    }
    double behind = Math.max(0, Math.min(promptest, promptestBefore));
    promptestBefore = promptest - behind;
    promptest = Double.POSITIVE_INFINITY;
    return behind;
  }

  /**
   * Whether only the next reading can tell if one that arrives now was held up for longer than any
   * lately, or if readings before it were lost.
   */
  boolean isOpen(double arrivedAt) {
    double most = Math.max(UNUSUAL * held, period);
    return count > 0 && period > 0 && arrivedAt - time - period > most;
  }

  /**
   * The time at which the reading that has just arrived was taken.
   *
   * @param arrivedAt (s)
   * @param next arrival of the reading after it (s), where {@link #isOpen} asked for it
   * @return never after {@code arrivedAt}, never before the reading before it (s)
   */
  double timeOf(double arrivedAt, double next) {
    double mean = mean(arrivedAt - lost);
    boolean isHurried = arrivedAt - arrival < HURRY * (period > 0 ? period : mean);
    boolean isHeldUp = next - arrivedAt < HURRY * period;
    double expected = time + (1 + FADE) * period;
    if (count == 0 || period == 0) {
      expected = Math.max(time, arrivedAt);
    } else if (isHeldUp) {
      held = Math.max(held, arrivedAt - expected);
    } else if (isHurried) {
      held = Math.max(held, late);
    }
    late = arrivedAt - expected;
    double taken = Math.max(expected, arrivedAt - held);
    lost += isOpen(arrivedAt) && !isHeldUp ? taken - expected : 0;
    taken += neededLately();
    held -= FADE * held;
    if (mean > 0 && !isHurried && !isHeldUp) {
      period = mean; // counted in mid burst, readings would be too few or too many
    }
    arrival = arrivedAt;
    arrivals[(int) (count % SPAN)] = isHurried || isHeldUp ? Double.NaN : arrivedAt - lost;
    count++;
    time = Math.max(time, Math.min(arrivedAt, taken));
    return time;
  }
}
