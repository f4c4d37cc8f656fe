package pourwright.check;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.SplittableRandom;
import pourwright.metrology.WeightClass;
import pourwright.performance.Estimate;
import pourwright.performance.LoadError;
import pourwright.simulate.Flaws;
import pourwright.simulate.ScaleTraits;

/** Invented scales with every flaw at once, each of a size drawn anew, and what is true of them. */
enum FlawedFamily {
  /** Fine steps, fast. */
  FINE(0.01, 0.02, 0.08, 0.03),
  /** Tenths of a gram, noise about half a step. */
  TENTHS(0.1, 0.03, 0.08, 0.05),
  /** Tenths of a gram without noise to tell what lies between. */
  CLEAN_TENTHS(0.1, 0.0, 0.01, 0.0),
  /** Whole grams. */
  WHOLE_GRAMS(1.0, 0.05, 0.3, 0.0);

  private static final double[] RATES = {8, 10, 20, 40};
  private static final Kit KIT = SimulatedCheck.kit(WeightClass.M1, 50, 100, 200);
  private static final Programme PROGRAMME = Programme.of(KIT, Thoroughness.USUAL);

  private final double stepGrams;
  private final double leastNoise;
  private final double mostNoise;
  private final double placingSpread;

  FlawedFamily(double stepGrams, double leastNoise, double mostNoise, double placingSpread) {
    this.stepGrams = stepGrams;
    this.leastNoise = leastNoise;
    this.mostNoise = mostNoise;
    this.placingSpread = placingSpread;
  }

  /** Whether an estimate covers what is true, by the key of the figure. */
  record Outcome(Map<String, Estimate> estimates, Map<String, Double> truths) {}

  Outcome run(long seed) {
    SplittableRandom random = new SplittableRandom(seed * 31 + ordinalWord());
    int order = random.nextInt(1, 3);
    double lag = 0.05 * Math.pow(0.7 / 0.05, random.nextDouble()) / order;
    double noise = leastNoise + (mostNoise - leastNoise) * random.nextDouble();
    double drift = random.nextInt(2) == 0 ? 0 : 0.3 * (random.nextDouble() - 0.5);
    double rate = RATES[random.nextInt(RATES.length)];
    ScaleTraits traits =
        new ScaleTraits(rate, lag, order, noise, stepGrams, drift, false, 1, 0.004);
    Flaws flaws =
        Flaws.NONE
            .withDeadSeconds(0.005 * random.nextInt(0, 40))
            .withSpanShare(0.004 * (random.nextDouble() - 0.5))
            .withBowGrams(2 * (random.nextDouble() - 0.5))
            .withHysteresisGrams(random.nextDouble())
            .withCorners(0.005 * (random.nextDouble() - 0.5), 0.005 * (random.nextDouble() - 0.5))
            .withCreep(Math.max(0, 0.001 * (random.nextDouble() - 0.5)), 40)
            .withPlacingSpreadGrams(placingSpread * (0.5 + random.nextDouble()));
    SimulatedCheck done = new SimulatedCheck(traits, flaws, PROGRAMME, seed).run();
    if (!done.check().isDone()) {
      throw new IllegalStateException(this + " seed " + seed + " ended at " + done.scale().now());
    }
    return judged(done, traits, flaws);
  }

  private long ordinalWord() {
    return name().hashCode();
  }

  private Outcome judged(SimulatedCheck done, ScaleTraits traits, Flaws flaws) {
    Measured measured = done.check().measured();
    Appraisal found = Appraisal.of(measured);
    Map<String, Estimate> estimates = new LinkedHashMap<>();
    found.figures().forEach(figure -> estimates.put(figure.key(), figure.estimate()));
    Map<String, Double> truths = new LinkedHashMap<>();

    double filterLag = traits.order() * traits.lagSeconds();
    double linkDelay = traits.jitterSeconds() * Math.sqrt(2 / Math.PI);
    truths.put("filter_lag_s", filterLag);
    truths.put("dead_time_s", flaws.deadSeconds() + linkDelay);
    truths.put("lag_s", filterLag + flaws.deadSeconds() + linkDelay);
    truths.put("noise_g", traits.noiseGrams());
    truths.put("rate_per_s", traits.readingsPerSecond());
    truths.put("display_step_g", stepGrams);
    for (LoadError error : found.errors()) {
      truths.put(
          "error_at_" + Appraisal.plain(error.loadGrams()) + "_g",
          flaws.errorGrams(error.loadGrams()));
    }
    truths.put("hysteresis_g", flaws.hysteresis(150, 350));
    double main = 200;
    truths.put(
        "corner_front_left_g",
        -main * (flaws.corners().rightShare() + flaws.corners().backShare()));
    truths.put(
        "corner_back_right_g", main * (flaws.corners().rightShare() + flaws.corners().backShare()));
    truths.put(
        "corner_front_right_g",
        main * (flaws.corners().rightShare() - flaws.corners().backShare()));
    truths.put(
        "corner_back_left_g", main * (flaws.corners().backShare() - flaws.corners().rightShare()));
    Taken hold =
        measured.of(Part.HOLD).stream()
            .filter(one -> one.ask() instanceof Ask.Hold)
            .findFirst()
            .orElseThrow();
    double start = hold.readings().seconds(0);
    double shownLate = filterLag + flaws.deadSeconds();
    double end = hold.readings().seconds(hold.readings().size() - 1);
    truths.put(
        "creep_g",
        done.felt(end - 3 - shownLate, end - shownLate)
            - done.felt(start - shownLate, start + 3 - shownLate)
            + traits.driftGramsPerMinute() * (end - start - 3) / 60);
    if (flaws.creep().share() == 0) { // else the empty pan creeps back too
      truths.put("zero_drift_g_per_min", traits.driftGramsPerMinute());
    }
    if (traits.noiseGrams() > stepGrams) {
      truths.put("repeatability_g", seenSpread(traits, flaws));
    }
    return new Outcome(estimates, truths);
  }

  /** Standard deviation of a placing as it is seen: the true one and noise. */
  private double seenSpread(ScaleTraits traits, Flaws flaws) {
    double perMean = traits.noiseGrams() * traits.noiseGrams() / (1.5 * traits.readingsPerSecond());
    return Math.sqrt(flaws.placingSpreadGrams() * flaws.placingSpreadGrams() + 2 * perMean);
  }
}
