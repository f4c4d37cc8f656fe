package pourwright.bench;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import pourwright.reading.Reading;
import pourwright.reading.Stability;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/** One scale and its link: forces in, readings out. */
final class Readout {
  private static final double TRACKING_STEPS_PER_SECOND = 0.5;

  private final Conditions.Sensor sensor;
  private final Conditions.Link link;
  private final List<Truth.Gap> gaps;
  private final Dice dice;

  private double zero;
  private double creep;
  private double shown = Double.NaN;
  private double lastArrival;

  Readout(Conditions.Sensor sensor, Conditions.Link link, List<Truth.Gap> gaps, Dice dice) {
    this.sensor = sensor;
    this.link = link;
    this.gaps = gaps;
    this.dice = dice;
  }

  /**
   * Weighs a scene.
   *
   * @param forceGrams one value per step of the fine grid
   * @param tares when the display is set to zero (s), ascending
   * @param startsTared whether it reads zero at first
   */
  Take.Curve weigh(double[] forceGrams, List<Double> tares, boolean startsTared) {
    Lag lag = Lag.of(sensor.lagKind(), sensor.lagSeconds(), Scene.STEP_SECONDS);
    double[] smooth = new double[forceGrams.length];
    double load = forceGrams[0];
    for (int i = 0; i < forceGrams.length; i++) {
      load += (forceGrams[i] - load) * Scene.STEP_SECONDS / 25;
      creep = sensor.creepShare() * load;
      smooth[i] =
          lag.next(forceGrams[i]) + creep + sensor.driftGramsPerSecond() * i * Scene.STEP_SECONDS;
    }
    zero = startsTared ? smooth[0] : 0;
    Noise noise = Noise.of(sensor.colour(), sensor.noiseGrams(), sensor.rateHz(), dice.split());
    double[] recent = new double[sensor.medianOf()];
    Arrays.fill(recent, Double.NaN);
    List<Take.Sample> samples = new ArrayList<>();
    double period = 1 / sensor.rateHz() * (1 + 2e-4 * dice.gauss());
    double batchPhase = dice.between(0, 1);
    long burst = -1;
    double burstArrival = 0;
    int nextTare = 0;
    int calm = 0;
    double before = Double.NaN;
    int k = 0;
    for (double t = dice.between(0, period); ; t += period, k++) {
      int at = (int) (t / Scene.STEP_SECONDS);
      if (at >= smooth.length) {
        break;
      }
      while (nextTare < tares.size() && tares.get(nextTare) <= t) {
        zero = smooth[at];
        shown = Double.NaN;
        nextTare++;
        Arrays.fill(recent, Double.NaN);
      }
      double weight = smooth[at] - zero;
      recent[k % recent.length] = weight + noise.next();
      double display = median(recent);
      if (sensor.zeroTracking() && Math.abs(display) < sensor.stepGrams()) {
        double most = TRACKING_STEPS_PER_SECOND * sensor.stepGrams() * period;
        zero += Math.max(-most, Math.min(most, display));
      }
      if (sensor.freezeSteps() > 0
          && Math.abs(display - shown) < sensor.freezeSteps() * sensor.stepGrams()) {
        display = shown;
      }
      shown = display;
      double written = Math.rint(display / sensor.stepGrams()) * sensor.stepGrams();
      calm = Math.abs(written - before) < 1.01 * sensor.stepGrams() ? calm + 1 : 0;
      before = written;
      double arrival;
      if (link.batchSeconds() > 0) {
        long own = (long) Math.ceil(t / link.batchSeconds() - batchPhase);
        if (own != burst) {
          burst = own;
          double stall = dice.chance(link.stallChance()) ? dice.between(0.2, 0.8) : 0;
          burstArrival = (own + batchPhase) * link.batchSeconds() + delay() + stall;
        } else {
          burstArrival += link.spacingSeconds();
        }
        arrival = burstArrival;
      } else {
        arrival = t + delay();
      }
      arrival = Math.max(arrival, lastArrival);
      lastArrival = arrival;
      double taken = t;
      if (gaps.stream().anyMatch(gap -> taken >= gap.startSeconds() && taken < gap.endSeconds())) {
        continue;
      }
      Stability stability =
          !sensor.saysStable()
              ? Stability.UNSTATED
              : calm > 0.7 * sensor.rateHz() ? Stability.STABLE : Stability.MOVING;
      samples.add(
          new Take.Sample(
              new Reading(SessionTime.ofSeconds(arrival), Mass.ofGrams(written), stability),
              weight));
    }
    double step = sensor.stepGrams();
    return new Take.Curve(
        samples,
        Math.sqrt(sensor.noiseGrams() * sensor.noiseGrams() + step * step / 12),
        sensor.rateHz());
  }

  private double delay() {
    double queue =
        link.jitterSeconds() > 0 ? -link.jitterSeconds() * Math.log(dice.between(1e-3, 1)) : 0;
    return link.delaySeconds() + queue;
  }

  private static double median(double[] recent) {
    if (recent.length == 1) {
      return recent[0];
    }
    double[] known = Arrays.stream(recent).filter(value -> !Double.isNaN(value)).sorted().toArray();
    int half = known.length / 2;
    return known.length % 2 == 1 ? known[half] : (known[half - 1] + known[half]) / 2;
  }
}
