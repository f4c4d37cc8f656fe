package pourwright.stage;

/**
 * How long the hands are busy with each chore, in whole seconds; 0 leaves the chore out. Defaults
 * are common practice, no source: measure your own.
 *
 * @param rinse before the dose
 * @param dose before the first pour
 * @param swirl right after the first pour
 * @param lift once the last pour has drained
 * @param serve after the lift
 * @param clean after serving
 * @param travel from any brewer to any other, or to the kettle's base
 * @param scale to move the one scale from under one brewer and under the next; 0 when each has its
 *     own
 */
public record HandTimes(
    int rinse, int dose, int swirl, int lift, int serve, int clean, int travel, int scale) {
  /** To lift a rig off, carry the scale over and lift the next one onto it. */
  public static final int COMMON_SCALE_SECONDS = 6;

  public static final HandTimes COMMON = new HandTimes(8, 6, 3, 4, 8, 0, 2);

  public HandTimes {
    for (int seconds : new int[] {rinse, dose, swirl, lift, serve, clean, travel, scale}) {
      if (seconds < 0 || seconds > 600) {
        throw new IllegalArgumentException("a chore takes 0 to 600 s, not " + seconds);
      }
    }
  }

  /** The times where each brewer has a scale of its own. */
  public HandTimes(int rinse, int dose, int swirl, int lift, int serve, int clean, int travel) {
    this(rinse, dose, swirl, lift, serve, clean, travel, 0);
  }

  /** Longer by so much for every chore there is, and for every walk (s). */
  public HandTimes slower(int seconds) {
    return new HandTimes(
        longer(rinse, seconds),
        longer(dose, seconds),
        longer(swirl, seconds),
        longer(lift, seconds),
        longer(serve, seconds),
        longer(clean, seconds),
        travel + seconds,
        longer(scale, seconds));
  }

  private static int longer(int chore, int seconds) {
    return chore == 0 ? 0 : chore + seconds;
  }
}
