package pourwright.check;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.SplittableRandom;
import pourwright.metrology.WeightClass;
import pourwright.performance.Estimate;
import pourwright.performance.SlowWater;
import pourwright.simulate.Flaws;
import pourwright.simulate.ScaleTraits;

/** Invented scales that hide small changes, and what is true of them. */
final class FreezingScales {
  private static final Programme PROGRAMME =
      Programme.of(SimulatedCheck.kit(WeightClass.M1, 50, 200), Thoroughness.USUAL);

  private FreezingScales() {}

  static FlawedFamily.Outcome run(long seed) {
    SplittableRandom random = new SplittableRandom(seed * 77);
    double hidden = 0.3 + 1.2 * random.nextDouble();
    double rate = random.nextInt(2) == 0 ? 10 : 20;
    double noise = 0.01 + 0.05 * random.nextDouble();
    ScaleTraits traits = new ScaleTraits(rate, 0.1, 2, noise, 0.1, 0, false, 1, 0.004);
    SimulatedCheck done =
        new SimulatedCheck(traits, Flaws.NONE.withFreezeGrams(hidden), PROGRAMME, seed).run();
    SlowWater found = Appraisal.of(done.check().measured()).slowWater().orElseThrow();
    Map<String, Estimate> estimates = new LinkedHashMap<>();
    Map<String, Double> truths = new LinkedHashMap<>();
    estimates.put("slow_water_g", found.gained());
    truths.put("slow_water_g", done.hand().drippedGrams());
    estimates.put("freeze_g", found.freeze().orElseThrow());
    truths.put("freeze_g", hidden);
    return new FlawedFamily.Outcome(estimates, truths);
  }
}
