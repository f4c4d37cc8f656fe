package pourwright.simulate;

import java.util.SplittableRandom;
import pourwright.rig.Place;

/** One simulated scale: from the load on its pan to the readings that come up its link. */
final class WeighedPlace {
  private static final double NANOS_PER_SECOND = 1e9;
  private static final double NANOGRAMS_PER_GRAM = 1e9;

  /** Auto-zero follows only this much of a display step, so slowly (own choice). */
  private static final double ZERO_BAND_STEPS = 0.5;

  private static final double ZERO_SECONDS = 1.0;

  /** A weight within this many steps of the one before is called stable. */
  private static final double STABLE_STEPS = 1.0;

  private final Place place;
  private final ScaleTraits traits;
  private final SplittableRandom random;
  private final double stepSeconds;
  private final double freezeGrams;
  private final double keep;
  private final double longestDelay;
  private final long[] burstNanos;
  private final long[] burstNanograms;
  private final boolean[] burstStable;

  private double first;
  private double second;
  private double zero;
  private double driftGrams;
  private double nextReading;
  private double shown;
  private double previousShown = Double.NaN;
  private long lastNanos;
  private int waiting;
  private int given;

  WeighedPlace(Place place, ScaleTraits traits, SplittableRandom random, double stepSeconds) {
    this(place, traits, 0, random, stepSeconds);
  }

  /**
   * @param freezeGrams changes of less than this are not shown (g)
   */
  WeighedPlace(
      Place place,
      ScaleTraits traits,
      double freezeGrams,
      SplittableRandom random,
      double stepSeconds) {
    this.freezeGrams = freezeGrams;
    this.place = place;
    this.traits = traits;
    this.random = random;
    this.stepSeconds = stepSeconds;
    this.keep = traits.lagSeconds() <= 0 ? 0 : Math.exp(-stepSeconds / traits.lagSeconds());
    // What one reading brings has to be taken before the next one comes.
    this.longestDelay = Math.max(0, 1 / traits.readingsPerSecond() - 2 * stepSeconds);
    this.burstNanos = new long[traits.readingsPerBurst()];
    this.burstNanograms = new long[traits.readingsPerBurst()];
    this.burstStable = new boolean[traits.readingsPerBurst()];
    this.nextReading = random.nextDouble() / traits.readingsPerSecond();
  }

  Place place() {
    return place;
  }

  /** What the display shows (g). */
  double shownGrams() {
    return shown;
  }

  void tare() {
    zero = filtered() + driftGrams;
  }

  /**
   * One step on.
   *
   * @param now the present (s)
   * @param loadGrams on the pan
   * @param isHeard false while the link is broken
   */
  void step(double now, double loadGrams, boolean isHeard) {
    first = keep * first + (1 - keep) * loadGrams;
    second = keep * second + (1 - keep) * first;
    driftGrams += traits.driftGramsPerMinute() * stepSeconds / 60;
    if (now < nextReading) {
      return;
    }
    nextReading += 1 / traits.readingsPerSecond();
    read(now, isHeard);
  }

  private double filtered() {
    return traits.order() == 2 ? second : first;
  }

  private void read(double now, boolean isHeard) {
    double raw = filtered() + driftGrams - zero + traits.noiseGrams() * random.nextGaussian();
    double step = traits.stepGrams();
    if (traits.tracksZero() && Math.abs(raw) < ZERO_BAND_STEPS * step) {
      double share = Math.min(1, 1 / (ZERO_SECONDS * traits.readingsPerSecond()));
      zero += share * raw;
    }
    if (Math.abs(raw - shown) >= freezeGrams) {
      shown = Math.rint(raw / step) * step;
    }
    boolean isStable = Math.abs(shown - previousShown) <= STABLE_STEPS * step;
    previousShown = shown;
    double delay = Math.min(longestDelay, Math.abs(traits.jitterSeconds() * random.nextGaussian()));
    if (!isHeard) {
      waiting = 0;
      return;
    }
    if (given == waiting) {
      given = 0;
      waiting = 0;
    }
    long at = Math.max(lastNanos, Math.round((now + delay) * NANOS_PER_SECOND));
    burstNanos[waiting] = at;
    burstNanograms[waiting] = Math.round(shown * NANOGRAMS_PER_GRAM);
    burstStable[waiting] = isStable;
    waiting++;
    lastNanos = at;
  }

  /** Whether a whole burst has come and is not yet taken. */
  boolean isReady() {
    return waiting == burstNanos.length && given < waiting;
  }

  /** When the burst that is ready came (ns). */
  long readyNanos() {
    return burstNanos[waiting - 1];
  }

  long nanograms() {
    return burstNanograms[given];
  }

  boolean isStable() {
    return burstStable[given];
  }

  void take() {
    given++;
  }
}
