package pourwright.bench;

import java.util.List;

/**
 * What no detector can beat on one pour of one recording.
 *
 * <p>Delays: the smallest mean delay at a false-alarm rate is, to first order, the time until the
 * information gathered about the change reaches the logarithm of the mean time between false alarms
 * (G. Lorden, Ann. Math. Statist. 42 (1971) 1897; E. S. Page, Biometrika 41 (1954) 100), here with
 * the pour's true shape known. An end cannot be told from a pause before the longest pause that
 * still belongs to a pour is over.
 *
 * <p>Onset and mass: the Cramér–Rao bounds of the corner between a level and a ramp, and of the
 * difference of two levels, in white noise. All are rough where the noise is not white.
 *
 * @param startSeconds delay of a live start (s)
 * @param endSeconds delay of a live end (s)
 * @param onsetSeconds median error of the start in hindsight (s)
 * @param lastSeconds median error of the end in hindsight (s)
 * @param massGrams median error of the mass in hindsight (g)
 */
record Bounds(
    double startSeconds,
    double endSeconds,
    double onsetSeconds,
    double lastSeconds,
    double massGrams) {
  /** One false alarm in this time (s). */
  private static final double FALSE_ALARM_SECONDS = 3600;

  /** A pause up to this belongs to the pour (s). */
  private static final double PAUSE_SECONDS = 1.0;

  /** Of a normal error: median of its size over its standard deviation. */
  private static final double MEDIAN_OF_SIGMA = 0.6745;

  static Bounds of(Take.Curve curve, Truth truth, int index) {
    Truth.Pour pour = truth.pours().get(index);
    List<Take.Sample> samples = curve.samples();
    double variance = curve.noiseGrams() * curve.noiseGrams();
    double wanted = Math.log(FALSE_ALARM_SECONDS * curve.rateHz());
    int first = firstFrom(samples, pour.startSeconds());
    int last = firstFrom(samples, pour.endSeconds());
    double flow = pour.grams() / (pour.endSeconds() - pour.startSeconds());
    double level = samples.get(Math.max(0, first - 1)).idealGrams();
    double start = Double.NaN;
    double information = 0;
    for (int i = first; i < last; i++) {
      double off = samples.get(i).idealGrams() - level;
      information += off * off / (2 * variance);
      if (information > wanted) {
        start = samples.get(i).seconds() - pour.startSeconds();
        break;
      }
    }
    double end = Double.NaN;
    information = 0;
    for (int i = last; i < samples.size(); i++) {
      double late = samples.get(i).seconds() - pour.endSeconds();
      double off =
          samples.get(i).idealGrams()
              - samples.get(Math.max(0, last - 1)).idealGrams()
              - flow * late;
      information += off * off / (2 * variance);
      if (information > wanted) {
        end = Math.max(PAUSE_SECONDS, late);
        break;
      }
    }
    double before =
        pour.startSeconds() - (index > 0 ? truth.pours().get(index - 1).endSeconds() : 0);
    double after =
        (index + 1 < truth.pours().size()
                ? truth.pours().get(index + 1).startSeconds()
                : truth.endSeconds())
            - pour.endSeconds();
    double length = pour.endSeconds() - pour.startSeconds();
    double rate = curve.rateHz();
    double sigma = curve.noiseGrams();
    double onset = sigma / flow * Math.sqrt(1 / (rate * before) + 4 / (rate * length));
    double ending =
        sigma / flow * Math.sqrt(1 / (rate * Math.max(0.5, after)) + 4 / (rate * length));
    double mass = sigma * Math.sqrt(1 / (rate * before) + 1 / (rate * Math.max(0.5, after)));
    return new Bounds(
        start, end, MEDIAN_OF_SIGMA * onset, MEDIAN_OF_SIGMA * ending, MEDIAN_OF_SIGMA * mass);
  }

  private static int firstFrom(List<Take.Sample> samples, double seconds) {
    int low = 0;
    int high = samples.size();
    while (low < high) {
      int middle = (low + high) >>> 1;
      if (samples.get(middle).seconds() < seconds) {
        low = middle + 1;
      } else {
        high = middle;
      }
    }
    return low;
  }
}
