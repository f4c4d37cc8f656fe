package pourwright.bench;

import java.util.Set;
import java.util.StringJoiner;
import pourwright.rig.Rig;

/** Everything drawn for one recording before anything happens in it. */
record Conditions(Rig rig, Brew brew, Sensor sensor, Link link, Mishaps mishaps) {

  /** How the rig comes to stand on the scale. */
  enum Preparation {
    /** Stands and is tared before the recording starts. */
    READY,
    /** Stands, and the display shows its weight all along. */
    UNTARED,
    /** Server, dripper and coffee are put on one by one, tared now and then. */
    PLACED,
    /** Server and dripper stand tared; the coffee is tipped in. */
    COFFEE_LAST
  }

  record Range(double low, double high) {
    double draw(Dice dice) {
      return dice.between(low, high);
    }
  }

  /** Masses in g, flows in g/s, times in s. */
  record Brew(
      int pours,
      Range grams,
      Range flow,
      Range gap,
      Preparation preparation,
      boolean isLifted,
      boolean isCut,
      double jetShare,
      double evaporationGramsPerSecond,
      double dripChance) {}

  /**
   * @param medianOf how many readings a median filter takes; 1 for none
   * @param freezeSteps the display holds until the weight is this many steps away; 0 for never
   * @param zeroTracking creeps to zero when near it
   */
  record Sensor(
      double rateHz,
      Lag.Kind lagKind,
      double lagSeconds,
      int medianOf,
      Noise.Colour colour,
      double noiseGrams,
      double stepGrams,
      double freezeSteps,
      boolean zeroTracking,
      double driftGramsPerSecond,
      double creepShare,
      boolean saysStable) {}

  /**
   * @param delaySeconds shortest way from scale to us
   * @param jitterSeconds mean of what is added to it
   * @param batchSeconds time between bursts; 0 for none
   * @param spacingSeconds between readings of a burst
   * @param stallChance per burst
   */
  record Link(
      double delaySeconds,
      double jitterSeconds,
      double batchSeconds,
      double spacingSeconds,
      double stallChance) {}

  record Mishaps(int disturbances, int tares, int dropouts) {}

  static Conditions draw(Family family, Dice dice) {
    Set<Trait> traits = family.traits(dice.split());
    Rig rig = family.rig();
    boolean isFast = traits.contains(Trait.BATCHED) || family == Family.SPLIT;
    double rate =
        family == Family.SEVERAL
            ? dice.octaveBetween(4, 80)
            : isFast ? dice.octaveBetween(8, 40) : dice.octaveBetween(8, 80);
    if (traits.contains(Trait.COARSE)) {
      rate = dice.octaveBetween(4, 20);
    }
    return new Conditions(
        rig,
        brew(traits, rig, dice.split()),
        sensor(traits, rate, dice.split()),
        link(traits, rate, dice.split()),
        new Mishaps(
            traits.contains(Trait.DISTURBED) ? dice.countBetween(1, 4) : 0,
            traits.contains(Trait.TARED) ? dice.countBetween(1, 2) : 0,
            traits.contains(Trait.INTERRUPTED) ? dice.countBetween(1, 2) : 0));
  }

  private static Brew brew(Set<Trait> traits, Rig rig, Dice dice) {
    boolean isPulsed = traits.contains(Trait.PULSED);
    boolean isGentle = traits.contains(Trait.GENTLE);
    return new Brew(
        isPulsed ? 8 : dice.countBetween(2, 5),
        isPulsed ? new Range(20, 30) : isGentle ? new Range(15, 50) : new Range(25, 100),
        isGentle ? new Range(1.5, 3) : new Range(3.5, 9),
        rig == Rig.WHOLE
            ? new Range(dice.chance(0.3) ? 3.2 : 6, isPulsed ? 14 : 35)
            : new Range(8, 45),
        dice.pick(
            Preparation.READY,
            Preparation.READY,
            Preparation.UNTARED,
            Preparation.PLACED,
            Preparation.PLACED,
            Preparation.COFFEE_LAST),
        dice.chance(0.75),
        dice.chance(0.06),
        dice.chance(0.25) ? 0 : dice.between(0.3, 1.0),
        dice.chance(0.2) ? 0 : dice.octaveBetween(0.008, 0.06),
        dice.chance(0.5) ? 0.5 : 0);
  }

  private static Sensor sensor(Set<Trait> traits, double rate, Dice dice) {
    boolean isSlow = traits.contains(Trait.SLOW);
    boolean isNoisy = traits.contains(Trait.NOISY);
    boolean isCoarse = traits.contains(Trait.COARSE);
    double step = isCoarse ? 1 : dice.pick(0.01, 0.02, 0.05, 0.1, 0.1, 0.1);
    double lag = isSlow ? dice.between(0.3, 0.7) : dice.octaveBetween(0.02, 0.2);
    // a median takes a share of the lag, never more than it
    int medianOf = dice.chance(0.15) ? Math.max(1, Math.min(7, 2 * (int) (lag * rate) + 1)) : 1;
    double medianLag = (medianOf - 1) / 2.0 / rate;
    return new Sensor(
        rate,
        dice.pick(Lag.Kind.values()),
        Math.max(0, lag - medianLag),
        medianOf,
        isNoisy ? dice.pick(Noise.Colour.values()) : Noise.Colour.WHITE,
        isNoisy
            ? dice.octaveBetween(0.08, 0.3)
            : isCoarse ? dice.octaveBetween(0.02, 0.4) : dice.octaveBetween(0.005, 0.05),
        step,
        dice.chance(0.12) ? dice.between(1.2, isCoarse ? 1.5 : 3) : 0,
        dice.chance(0.3),
        dice.chance(0.5) ? 0.002 * dice.gauss() : 0,
        dice.chance(0.5) ? dice.between(0, 4e-4) : 0,
        dice.chance(0.35));
  }

  private static Link link(Set<Trait> traits, double rate, Dice dice) {
    boolean isBatched = traits.contains(Trait.BATCHED);
    return new Link(
        dice.octaveBetween(0.002, isBatched ? 0.08 : 0.03),
        dice.chance(0.7) ? Math.min(0.02, 0.2 / rate) * dice.between(0, 1) : 0,
        isBatched ? Math.max(2.2 / rate, dice.between(0.1, 0.4)) : 0,
        dice.chance(0.5) ? 0 : dice.octaveBetween(0.0002, 0.003),
        isBatched && dice.chance(0.5) ? 0.02 : 0);
  }

  /** For people: what is unusual here. */
  String about() {
    StringJoiner words = new StringJoiner(", ");
    words.add("%.1f Hz".formatted(sensor.rateHz));
    words.add("noise %.3f g %s".formatted(sensor.noiseGrams, sensor.colour));
    words.add("step %.2f g".formatted(sensor.stepGrams));
    words.add("lag %.2f s %s".formatted(sensor.lagSeconds, sensor.lagKind));
    if (sensor.medianOf > 1) {
      words.add("median of " + sensor.medianOf);
    }
    if (sensor.freezeSteps > 0) {
      words.add("freezes %.1f steps".formatted(sensor.freezeSteps));
    }
    if (sensor.zeroTracking) {
      words.add("zero tracking");
    }
    if (link.batchSeconds > 0) {
      words.add("bursts every %.2f s".formatted(link.batchSeconds));
    }
    words.add("jet %.1f".formatted(brew.jetShare));
    words.add(brew.preparation.toString());
    return words.toString();
  }
}
