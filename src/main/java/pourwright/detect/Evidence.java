package pourwright.detect;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * The questions a phase may put to the signal of one scale. Pure in the sense that asking changes
 * no answer; the answers of {@link #seekRise} and {@link #seekStop} stay until the next asking.
 *
 * <p>Start and stop of a flow are changes from a level to a ramp and back with unknown moment and
 * slope: the generalised likelihood ratio test (Willsky and Jones 1976; Basseville and Nikiforov
 * 1993, section 7.2) over the moments of the last seconds. Its threshold is the logarithm of the
 * mean number of tests between false alarms (Page 1954, Lorden 1971).
 */
final class Evidence {
  /** How far back the change tests look (s): a gentle pour shows long before. */
  private static final double LOOK_BACK = 3.0;

  private final Signal signal;
  private final DetectorSettings settings;
  private final OptionalDouble givenLag;
  private final LagEstimate learnedLag;
  private final long baseNanos;
  private final long baseNanograms;

  private final Ledger.Dose dose;

  private final LeastSquares sums = new LeastSquares();
  private double riseAt;
  private double riseSlope;
  private double riseScore;
  private double stopAt;
  private double stopSlope;
  private double stopScore;
  private double stopLevel;
  private double lineSlope;
  private double lineEnd;
  private double lineScatter;
  private int lineBins;
  private double lineSpan;

  Evidence(
      Signal signal,
      DetectorSettings settings,
      OptionalDouble givenLag,
      LagEstimate learnedLag,
      long baseNanos,
      long baseNanograms) {
    this.signal = signal;
    this.settings = settings;
    this.dose = Judgement.dose(settings);
    this.givenLag = givenLag;
    this.learnedLag = learnedLag;
    this.baseNanos = baseNanos;
    this.baseNanograms = baseNanograms;
  }

  /** Time of the newest bin (s since the first reading). */
  double now() {
    return signal.time(0);
  }

  /** Mass of the newest bin (g above the first reading). */
  double mass() {
    return signal.mass(0);
  }

  /** What the scale displays when the mass is {@code grams} above the first reading (g). */
  double displayed(double grams) {
    return grams + baseNanograms * 1e-9;
  }

  SessionTime moment(double seconds) {
    return SessionTime.ofNanos(Math.max(0, baseNanos + Math.round(seconds * 1e9)));
  }

  /** A moment as seconds since the first reading. */
  double seconds(SessionTime at) {
    return (at.nanos() - baseNanos) * 1e-9;
  }

  /** The arrival of the newest reading. */
  SessionTime knownAt() {
    return moment(signal.arrival());
  }

  static Mass grams(double grams) {
    return Mass.ofGrams(grams);
  }

  double noise() {
    return signal.noise();
  }

  /** Smallest step of the display (g), 0 before it is known. */
  double resolution() {
    return signal.resolution();
  }

  double binSeconds() {
    return signal.binSeconds();
  }

  /** Lag given by the brewer or learned so far (s), 0 before it is known. */
  double lag() {
    return givenLag.isPresent() ? givenLag.getAsDouble() : learnedLag.seconds().orElse(0);
  }

  boolean knowsLag() {
    return givenLag.isPresent() || learnedLag.seconds().isPresent();
  }

  /** Whether the stop sought last is the end at this moment. */
  boolean isStop(SessionTime end) {
    return stopScore > 0 && Math.abs(seconds(end) - (stopAt - lag())) < 1e-6;
  }

  /** A dripper with its wet bed weighs no less (g). */
  double leastLift() {
    return Judgement.leastLift(settings);
  }

  /** What is left in the server when {@code removed} has gone and {@code after} is shown (g). */
  Optional<Mass> findBeverage(Ledger ledger, double after, double removed) {
    return Beverage.of(
        settings,
        ledger.settled(),
        after + ledger.load().taken(),
        ledger.load().empties(),
        baseNanograms * 1e-9,
        removed);
  }

  /** Whether all water of the plan is in; never where there is no plan. */
  boolean isAllPoured(Ledger ledger) {
    return settings
        .plannedWater()
        .map(water -> ledger.settled() >= Judgement.ALL_WATER * water.grams())
        .orElse(false);
  }

  /** The ground coffee the brewer stated (g); not a number where nothing was said. */
  double statedDose() {
    return settings.dose().map(Mass::grams).orElse(Double.NaN);
  }

  /** How much ground coffee there may be. */
  Ledger.Dose dose() {
    return dose;
  }

  /**
   * How long a stretch must be for its slope to be known to a quarter of {@code slope} (s): the
   * standard error of a slope is σ·√(12·dt)/t^1.5.
   */
  double slopeWindow(double slope) {
    double dt = binSeconds();
    double cubed = 4 * noise() * Math.sqrt(12 * dt) / slope;
    return Math.max(Math.max(0.18, 1.8 * dt), Math.cbrt(cubed * cubed));
  }

  /** Log-likelihood ratio that a change must reach. */
  double threshold() {
    return Math.log(3600 / (binSeconds() * settings.falseStartsPerHour()));
  }

  /**
   * Looks for the change from a level to a rising ramp that explains best the bins since {@code
   * since}.
   *
   * @return whether there is any rise at all; see {@link #riseAt}, {@link #riseSlope}, {@link
   *     #riseScore}
   */
  boolean seekRise(double since) {
    double from = Math.max(since, now() - LOOK_BACK);
    int bins = signal.binsSince(from);
    riseScore = 0;
    if (bins < 4) {
      return false;
    }
    double origin = now();
    double base = mass();
    double totalMass = 0;
    for (int back = 0; back < bins; back++) {
      totalMass += signal.mass(back) - base;
    }
    double sx = 0;
    double sxx = 0;
    double sy = 0;
    double sxy = 0;
    int n = 0;
    double best = 0;
    for (int back = 0; back < bins - 1; back++) {
      double x = signal.time(back) - origin;
      double y = signal.mass(back) - base;
      n++;
      sx += x;
      sxx += x * x;
      sy += y;
      sxy += x * y;
      double knot = signal.time(back + 1) - origin;
      double h = sx - n * knot;
      double hh = sxx - 2 * knot * sx + n * knot * knot - h * h / bins;
      double hy = sxy - knot * sy - h * totalMass / bins;
      if (hy > 0 && hh > 0 && hy * hy / hh > best) {
        best = hy * hy / hh;
        riseAt = knot + origin;
        riseSlope = hy / hh;
      }
    }
    riseScore = best / (2 * noise() * noise());
    return best > 0;
  }

  /** When the rise began (s). */
  double riseAt() {
    return riseAt;
  }

  /** How steep it is (g/s). */
  double riseSlope() {
    return riseSlope;
  }

  double riseScore() {
    return riseScore;
  }

  /**
   * Looks for the change from a ramp to a level that explains best the bins since {@code since};
   * the score weighs it against a ramp that goes on.
   */
  boolean seekStop(double since) {
    int bins = signal.binsSince(since);
    stopScore = 0;
    if (bins < 5) {
      return false;
    }
    double origin = now();
    double base = mass();
    sums.clear();
    for (int back = 0; back < bins; back++) {
      sums.add(signal.time(back) - origin, signal.mass(back) - base);
    }
    double ty = sums.sumY();
    double lineGain = sums.slope() * sums.covariance();
    double sx = 0;
    double sxx = 0;
    double sy = 0;
    double sxy = 0;
    int n = 0;
    double best = -1;
    for (int back = bins - 1; back >= 2; back--) {
      double x = signal.time(back) - origin;
      double y = signal.mass(back) - base;
      n++;
      sx += x;
      sxx += x * x;
      sy += y;
      sxy += x * y;
      double knot = (signal.time(back) + signal.time(back - 1)) / 2 - origin;
      double h = sx - n * knot;
      double hh = sxx - 2 * knot * sx + n * knot * knot - h * h / bins;
      double hy = sxy - knot * sy - h * ty / bins;
      if (n >= 2 && hy > 0 && hh > 0 && hy * hy / hh > best) {
        best = hy * hy / hh;
        stopAt = knot + origin;
        stopSlope = hy / hh;
        stopLevel = base + ty / bins - stopSlope * h / bins;
      }
    }
    stopScore = (best - lineGain) / (2 * noise() * noise());
    return best > 0;
  }

  /** Where the ramp bent into the level (s). */
  double stopAt() {
    return stopAt;
  }

  /** Slope before it (g/s). */
  double stopSlope() {
    return stopSlope;
  }

  double stopScore() {
    return stopScore;
  }

  /** Level after it (g). */
  double stopLevel() {
    return stopLevel;
  }

  /**
   * Fits a straight line to the bins from {@code from} on, but to {@code least} bins at least.
   *
   * @return whether there were at least three bins
   */
  boolean fitLine(double from, int least) {
    int bins = Math.min(signal.size(), Math.max(least, signal.binsSince(from)));
    lineBins = bins;
    if (bins < 3) {
      lineSlope = 0;
      lineEnd = bins > 0 ? mass() : 0;
      lineScatter = 0;
      return false;
    }
    double origin = now();
    double base = mass();
    sums.clear();
    for (int back = 0; back < bins; back++) {
      sums.add(signal.time(back) - origin, signal.mass(back) - base);
    }
    lineSpan = origin - signal.time(bins - 1);
    lineSlope = sums.slope();
    lineEnd = base + sums.intercept();
    lineScatter = Math.sqrt(sums.residual() / (bins - 2));
    return true;
  }

  /** Slope of the line fitted last (g/s). */
  double lineSlope() {
    return lineSlope;
  }

  /** Standard error of that slope from the scale's noise alone (g/s). */
  double lineSlopeError() {
    return lineSpan <= 0
        ? Double.POSITIVE_INFINITY
        : noise() * Math.sqrt(12.0 / lineBins) / lineSpan;
  }

  /** Its value now (g). */
  double lineEnd() {
    return lineEnd;
  }

  /** Standard deviation of the bins around it (g). */
  double lineScatter() {
    return lineScatter;
  }

  /** Mean of the bins between two times (g); NaN when there is none. */
  double level(double from, double to) {
    return signal.level(from, to);
  }

  /** Mass about {@code seconds} ago, at least one bin (g). */
  double massBefore(double seconds) {
    int back = Math.max(1, signal.binsSince(now() - seconds) - 1);
    return back < signal.size() ? signal.mass(back) : mass();
  }

  /** How long ago that bin was (s). */
  double spanBefore(double seconds) {
    int back = Math.max(1, signal.binsSince(now() - seconds) - 1);
    return back < signal.size() ? now() - signal.time(back) : 0;
  }

  /** Whether the display fell to zero at once, at {@code since} or later. */
  boolean isZeroedSince(double since) {
    return signal.zeroedAt() >= since;
  }

  double zeroedAt() {
    return signal.zeroedAt();
  }

  /** By how much it fell to zero, all times since {@code since} (g). */
  double zeroTook(double since) {
    return signal.zeroTook(since);
  }

  /** The last weight before it first did so since {@code since} (g); infinite where it did not. */
  double zeroFrom(double since) {
    return signal.zeroFrom(since);
  }

  /** Each time that it did, oldest first: when (s) and by how much (g). */
  List<double[]> listZeros(double since) {
    return signal.listZeros(since);
  }

  /** How long the signal has been watched without a break (s). */
  double watched() {
    return signal.size() == 0 ? 0 : now() - oldest();
  }

  /**
   * Standard deviation of the bins in a stretch about their mean (g): white noise and slow wander
   * alike. 0 for less than five bins.
   */
  double scatter(double from, double to) {
    double base = mass();
    double sum = 0;
    double squares = 0;
    int n = 0;
    for (int back = 0; back < signal.size() && signal.time(back) >= from; back++) {
      if (signal.time(back) <= to) {
        double y = signal.mass(back) - base;
        sum += y;
        squares += y * y;
        n++;
      }
    }
    return n < 5 ? 0 : Math.sqrt(Math.max(0, squares - sum * sum / n) / (n - 1));
  }

  /** Difference between the highest and the lowest bin of a stretch (g). */
  double range(double from, double to) {
    double low = Double.POSITIVE_INFINITY;
    double high = Double.NEGATIVE_INFINITY;
    for (int back = 0; back < signal.size() && signal.time(back) >= from; back++) {
      if (signal.time(back) <= to) {
        low = Math.min(low, signal.mass(back));
        high = Math.max(high, signal.mass(back));
      }
    }
    return Math.max(0, high - low);
  }

  /** How many bins lie between two times. */
  int countBins(double from, double to) {
    int n = 0;
    for (int back = 0; back < signal.size() && signal.time(back) >= from; back++) {
      n += signal.time(back) <= to ? 1 : 0;
    }
    return n;
  }

  /** Lowest bin since {@code from} (g). */
  double lowest(double from) {
    double low = Double.POSITIVE_INFINITY;
    for (int back = 0; back < signal.size() && signal.time(back) >= from; back++) {
      low = Math.min(low, signal.mass(back));
    }
    return low;
  }

  /** How often the bins since {@code from} swing from one side of their mean to the other. */
  int swings(double from) {
    double mean = level(from, now());
    double least = Judgement.SWING_SHARE * range(from, now());
    int swings = 0;
    int side = 0;
    for (int back = 0; back < signal.size() && signal.time(back) >= from; back++) {
      double off = signal.mass(back) - mean;
      int sideNow = off > least ? 1 : off < -least ? -1 : side;
      swings += side != 0 && sideNow != side ? 1 : 0;
      side = sideNow;
    }
    return swings;
  }

  /**
   * Least slope over {@code window} within the bins since {@code from}, in units given back later
   * (g/s).
   */
  double leastSlope(double from, double window) {
    double least = Double.POSITIVE_INFINITY;
    int near = 0;
    int far = 0;
    int size = signal.size();
    while (true) {
      while (far < size && signal.time(near) - signal.time(far) < window) {
        far++;
      }
      if (far >= size || signal.time(far) < from) {
        return least;
      }
      double slope =
          (signal.mass(near) - signal.mass(far)) / (signal.time(near) - signal.time(far));
      least = Math.min(least, slope);
      near++;
    }
  }

  /** Whether at least {@code count} bins have come since {@code time}. */
  boolean hasBinsSince(double time, int count) {
    return signal.binsSince(time) >= count;
  }

  /** The newest bin that already is {@code seconds} old, or the oldest kept (s). */
  double oldest() {
    return signal.time(signal.size() - 1);
  }
}
