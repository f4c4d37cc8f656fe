package pourwright.bench;

import java.util.SplittableRandom;

/** Seeded chance with the few draws the bench needs. */
final class Dice {
  private final SplittableRandom source;

  Dice(long seed) {
    this.source = new SplittableRandom(seed);
  }

  private Dice(SplittableRandom source) {
    this.source = source;
  }

  /** Independent dice, so that more draws in one part leave the other parts as they were. */
  Dice split() {
    return new Dice(source.split());
  }

  double between(double low, double high) {
    return low + (high - low) * source.nextDouble();
  }

  /** Equally likely in every octave. */
  double octaveBetween(double low, double high) {
    return low * Math.pow(high / low, source.nextDouble());
  }

  /** A whole number, both ends included. */
  int countBetween(int low, int high) {
    return source.nextInt(low, high + 1);
  }

  boolean chance(double probability) {
    return source.nextDouble() < probability;
  }

  double gauss() {
    return source.nextGaussian();
  }

  @SafeVarargs
  final <T> T pick(T... options) {
    return options[source.nextInt(options.length)];
  }
}
