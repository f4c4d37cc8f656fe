package pourwright.bench;

/** Unrest of a scale, one value per reading (g). */
interface Noise {
  double next();

  enum Colour {
    WHITE,
    RED,
    FLICKER,
    HUM
  }

  /**
   * Noise of a colour with a standard deviation.
   *
   * @param sigmaGrams standard deviation (g)
   * @param rateHz readings per second
   */
  static Noise of(Colour colour, double sigmaGrams, double rateHz, Dice dice) {
    return switch (colour) {
      case WHITE -> () -> sigmaGrams * dice.gauss();
      case RED -> red(sigmaGrams, dice.between(0.03, 0.15), rateHz, dice);
      case FLICKER ->
          sum(
              () -> 0.8 * sigmaGrams * dice.gauss(),
              red(0.4 * sigmaGrams, 0.2, rateHz, dice),
              red(0.35 * sigmaGrams, 1.5, rateHz, dice),
              red(0.3 * sigmaGrams, 10, rateHz, dice));
      case HUM -> sum(() -> 0.6 * sigmaGrams * dice.gauss(), hum(0.8 * sigmaGrams, rateHz, dice));
    };
  }

  private static Noise sum(Noise... parts) {
    return () -> {
      double total = 0;
      for (Noise part : parts) {
        total += part.next();
      }
      return total;
    };
  }

  /** First-order autoregressive noise with a memory in seconds. */
  private static Noise red(double sigmaGrams, double memorySeconds, double rateHz, Dice dice) {
    double keep = Math.exp(-1 / (rateHz * memorySeconds));
    double fresh = sigmaGrams * Math.sqrt(1 - keep * keep);
    return new Noise() {
      private double held = sigmaGrams * dice.gauss();

      @Override
      public double next() {
        held = keep * held + fresh * dice.gauss();
        return held;
      }
    };
  }

  /** A bench that vibrates: its frequency, above half the rate, folds down to anywhere. */
  private static Noise hum(double sigmaGrams, double rateHz, Dice dice) {
    double turn = 2 * Math.PI * dice.between(0.15, 0.5);
    double wander = 0.05 / Math.sqrt(rateHz);
    return new Noise() {
      private double phase = dice.between(0, 2 * Math.PI);
      private double strength = 1;

      @Override
      public double next() {
        phase += turn + wander * dice.gauss();
        strength = Math.max(0.2, Math.min(1.8, strength + 0.05 * dice.gauss()));
        return sigmaGrams * Math.sqrt(2) * strength * Math.sin(phase);
      }
    };
  }
}
