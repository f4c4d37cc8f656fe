package pourwright.simulate;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import pourwright.check.Ask;
import pourwright.check.Notice;
import pourwright.check.Programme;
import pourwright.check.TestLoad;

/** Does what a check asks, on a simulated scale, as a careful person would. */
public final class CheckingHand {
  private static final double OBJECT_GRAMS = 187.3;
  private static final double VESSEL_GRAMS = 243.6;
  private static final double QUICKEST_SECONDS = 0.7;
  private static final double SLOWEST_SECONDS = 1.5;

  /** How well a person keeps a beat (s); choices, no source. */
  private static final double BEAT_SPREAD = 0.025;

  private static final double BEAT_BIAS_SPREAD = 0.035;
  private static final double DRIP_GRAMS_PER_SECOND = 0.12;

  private final TestedScale scale;
  private final SplittableRandom random;
  private final Map<TestLoad, Double> masses = new HashMap<>();
  private final double beatBias;
  private double busyUntil;
  private double drippedGrams;

  public CheckingHand(TestedScale scale, long seed) {
    this.scale = scale;
    this.random = new SplittableRandom(seed).split();
    this.beatBias = BEAT_BIAS_SPREAD * random.nextGaussian();
  }

  /** How much slow water it let in (g). */
  public double drippedGrams() {
    return drippedGrams;
  }

  /** What a load really weighs (g): anywhere within its tolerance. */
  public double grams(TestLoad load) {
    return masses.computeIfAbsent(load, this::invented);
  }

  private double invented(TestLoad load) {
    if (load.known().isEmpty()) {
      return load.equals(Programme.VESSEL) ? VESSEL_GRAMS : OBJECT_GRAMS;
    }
    double half = Math.sqrt(3) * load.known().get().standardUncertaintyGrams();
    return load.known().get().mass().grams() + half * (2 * random.nextDouble() - 1);
  }

  /**
   * Hears what a check says.
   *
   * @param ask what it wants now
   */
  public void hear(List<Notice> notices, Ask ask) {
    for (Notice notice : notices) {
      if (notice.kind() == Notice.Kind.ASK && scale.now() >= busyUntil) {
        obey(ask);
      } else if (notice.kind() == Notice.Kind.COUNT && ask instanceof Ask.TakeOff off) {
        double third = notice.at().seconds() + Notice.BEATS * Notice.BEAT_SECONDS;
        move(-grams(off.load()), 0, 0, third + beatBias + BEAT_SPREAD * random.nextGaussian());
      }
    }
  }

  /** Does not do what was asked last, where it is not done yet. */
  public void skip() {
    scale.drop();
    busyUntil = scale.now();
  }

  private void obey(Ask ask) {
    double soon =
        scale.now() + QUICKEST_SECONDS + (SLOWEST_SECONDS - QUICKEST_SECONDS) * random.nextDouble();
    if (ask instanceof Ask.Put put) {
      move(grams(put.load()), put.spot().right(), put.spot().back(), soon);
    } else if (ask instanceof Ask.TakeOff off && !off.isOnBeat()) {
      move(-grams(off.load()), 0, 0, soon);
    } else if (ask instanceof Ask.Drip drip) {
      double seconds = drip.seconds() - (soon - scale.now());
      drippedGrams = DRIP_GRAMS_PER_SECOND * seconds;
      scale.drip(drippedGrams, soon, seconds);
      busyUntil = soon + seconds;
    } else if (ask instanceof Ask.Tare) {
      scale.tare();
    }
  }

  private void move(double grams, double right, double back, double at) {
    scale.move(grams, right, back, at);
    busyUntil = at;
  }
}
