package pourwright.bench;

/**
 * Where the water in the dripper goes: kept by the grounds, standing above them, or dripping out.
 * Coarse on purpose: a power law that ends in finite time, then a tail of single drips.
 */
final class Bed {
  private static final double DROP_GRAMS = 0.06;
  private static final double ABSORB_SECONDS = 5;

  private final double capacityGrams;
  private final double coefficient;
  private final double power;
  private final double leastFlow;
  private final double tailGrams;
  private final double tailSeconds;

  private double absorbed;
  private double standing;
  private double tail;
  private double hanging;

  Bed(double doseGrams, Dice dice) {
    this.capacityGrams = doseGrams * dice.between(1.6, 2.2);
    this.power = dice.between(0.35, 0.75);
    this.leastFlow = dice.between(0.4, 1.2);
    double drainSeconds = dice.between(12, 28);
    this.coefficient = (1 + power) * (60 / drainSeconds - leastFlow / 2) / Math.pow(60, power);
    this.tailSeconds = dice.between(0.6, 2.5);
    // what drips from the dry bed cannot run faster than what ran while water stood on it
    this.tailGrams = dice.between(0.2, 0.7) * leastFlow * tailSeconds;
  }

  /** Water that stands above the grounds (g). */
  double standingGrams() {
    return standing;
  }

  /** Takes what came in during a step and gives what fell into the server (g). */
  double pass(double incomingGrams, double stepSeconds) {
    standing += incomingGrams;
    double kept = Math.min(standing, (capacityGrams - absorbed) / ABSORB_SECONDS * stepSeconds);
    absorbed += kept;
    standing -= kept;
    double open = Math.max(0, Math.min(1, 2 * absorbed / capacityGrams - 0.5));
    if (standing > 0) {
      double flow = open * (leastFlow + coefficient * Math.pow(standing, power));
      double out = Math.min(standing, flow * stepSeconds);
      standing -= out;
      double refill = Math.min(standing, tailGrams * open - tail);
      if (refill > 0) {
        tail += refill;
        standing -= refill;
      }
      return out;
    }
    double dripping = tail * (1 - Math.exp(-stepSeconds / tailSeconds));
    tail -= dripping;
    hanging += dripping;
    if (hanging > DROP_GRAMS) {
      hanging -= DROP_GRAMS;
      return DROP_GRAMS;
    }
    return 0;
  }
}
