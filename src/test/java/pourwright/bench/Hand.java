package pourwright.bench;

/**
 * How one brewer pours: the flow that lands, step by step on the fine grid.
 *
 * @param rampUpSeconds from first water to full flow
 * @param rampDownSeconds from full flow to last water
 * @param wander relative unsteadiness of the flow
 * @param slosh relative pulses of the circling kettle
 * @param sloshHz circles per second
 * @param pauseChance of one pause shorter than 1 s in a pour
 * @param isSmooth ramps follow a half cosine instead of a straight line
 */
record Hand(
    double rampUpSeconds,
    double rampDownSeconds,
    double wander,
    double slosh,
    double sloshHz,
    double pauseChance,
    boolean isSmooth) {

  static Hand draw(Dice dice) {
    return new Hand(
        dice.octaveBetween(0.08, 0.8),
        dice.octaveBetween(0.08, 0.6),
        dice.between(0.0, 0.15),
        dice.chance(0.5) ? dice.between(0.05, 0.3) : 0,
        dice.between(0.8, 3.5),
        dice.chance(0.35) ? 0.35 : 0,
        dice.chance(0.3));
  }

  /**
   * Flow that lands (g/s), one value per step; its sum times the step is {@code grams}, its first
   * and last value are positive.
   */
  double[] pour(double grams, double gramsPerSecond, double stepSeconds, Dice dice) {
    double up = rampUpSeconds * dice.between(0.7, 1.4);
    double down = rampDownSeconds * dice.between(0.7, 1.4);
    double full = Math.max(0.4, grams / gramsPerSecond - (up + down) / 2);
    double pauseLength =
        full > 4 && dice.chance(pauseChance) ? dice.between(0.25, 0.95 - 0.3 * (up + down)) : 0;
    if (pauseLength < 0.2) {
      pauseLength = 0;
    }
    double pauseStart = up + dice.between(0.3, 0.7) * full;
    double length = up + full + down + pauseLength;
    int steps = (int) Math.ceil(length / stepSeconds);
    double[] flow = new double[steps];
    double phase = dice.between(0, 2 * Math.PI);
    double keep = Math.exp(-stepSeconds / 0.7);
    double fresh = Math.sqrt(1 - keep * keep);
    double drift = dice.gauss();
    double total = 0;
    for (int i = 0; i < steps; i++) {
      double t = (i + 0.5) * stepSeconds;
      drift = keep * drift + fresh * dice.gauss();
      double edge = Math.min(share(t / up), share((length - t) / down));
      boolean paused = pauseLength > 0 && t > pauseStart && t < pauseStart + pauseLength;
      if (pauseLength > 0 && !paused) {
        // the kettle tips up and down again around a pause, quicker than at the ends
        double away = t < pauseStart ? pauseStart - t : t - pauseStart - pauseLength;
        edge = Math.min(edge, share(away / 0.1));
      }
      double shape =
          Math.max(0.15, 1 + wander * drift + slosh * Math.sin(2 * Math.PI * sloshHz * t + phase));
      flow[i] = paused ? 0 : edge * shape;
      total += flow[i] * stepSeconds;
    }
    for (int i = 0; i < steps; i++) {
      flow[i] *= grams / total;
    }
    return flow;
  }

  private double share(double along) {
    double inside = Math.max(0, Math.min(1, along));
    return isSmooth ? 0.5 - 0.5 * Math.cos(Math.PI * inside) : inside;
  }
}
