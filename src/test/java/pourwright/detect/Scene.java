package pourwright.detect;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import pourwright.rig.Place;

/**
 * A small made-up brew on one scale, for tests: the true load over time, seen through a first-order
 * lag, noise and rounding. Everything is seeded.
 */
final class Scene {
  /** Fine time step of the load (s). */
  private static final double STEP = 0.001;

  record Water(double start, double end, double grams) {}

  private final List<Double> load = new ArrayList<>();
  private final List<Water> pours = new ArrayList<>();
  private final List<double[]> pushes = new ArrayList<>();
  private final List<double[]> gaps = new ArrayList<>();
  private double now;
  private double mass;
  private double rate = 10;
  private double noise = 0.03;
  private double resolution = 0.1;
  private double lag = 0.1;
  private double hurryAbove = Double.POSITIVE_INFINITY;
  private double hurryTimes = 1;
  private double offset;
  private double evaporation;
  private int batch = 1;
  private final List<Double> tares = new ArrayList<>();
  private long seed = 1;

  Scene rate(double perSecond) {
    rate = perSecond;
    return this;
  }

  Scene noise(double grams) {
    noise = grams;
    return this;
  }

  Scene resolution(double grams) {
    resolution = grams;
    return this;
  }

  Scene lag(double seconds) {
    lag = seconds;
    return this;
  }

  /** The scale follows a load that is more than {@code grams} away this many times faster. */
  Scene hurriesAbove(double grams, double times) {
    hurryAbove = grams;
    hurryTimes = times;
    return this;
  }

  Scene offset(double grams) {
    offset = grams;
    return this;
  }

  Scene evaporation(double gramsPerSecond) {
    evaporation = gramsPerSecond;
    return this;
  }

  Scene batches(int readings) {
    batch = readings;
    return this;
  }

  Scene seed(long value) {
    seed = value;
    return this;
  }

  Scene rest(double seconds) {
    run(seconds, 0, 0, 0);
    return this;
  }

  /** Pours with a quarter second to open and to close the flow. */
  Scene pour(double grams, double flow) {
    return pour(grams, flow, 0.25);
  }

  Scene pour(double grams, double flow, double ramp) {
    double start = now;
    run(grams / flow + ramp, flow, ramp, ramp);
    pours.add(new Water(start, now, mass - massAtLastRun));
    return this;
  }

  /** Something that is no water trickles onto the rig evenly. */
  Scene trickle(double grams, double seconds) {
    run(seconds, grams / seconds, 0, 0);
    return this;
  }

  private double massAtLastRun;

  private void run(double seconds, double flow, double opening, double closing) {
    massAtLastRun = mass;
    int steps = (int) Math.round(seconds / STEP);
    for (int i = 0; i < steps; i++) {
      double t = i * STEP;
      double q = flow;
      if (opening > 0) {
        q = flow * Math.min(1, Math.min(t / opening, (seconds - t) / closing));
      }
      mass += q * STEP;
      load.add(mass - evaporation * (now + t));
    }
    now += seconds;
  }

  /** Something put down (positive) or taken away (negative) at this moment. */
  Scene put(double grams) {
    mass += grams;
    return this;
  }

  /** A push on the rig that comes and goes like half a sine. */
  Scene push(double afterSeconds, double grams, double seconds) {
    pushes.add(new double[] {now + afterSeconds, grams, seconds, 0.5 / seconds});
    return this;
  }

  /** The rig is swirled: the weight swings around its value. */
  Scene swirl(double afterSeconds, double grams, double hertz, double seconds) {
    pushes.add(new double[] {now + afterSeconds, grams, seconds, hertz});
    return this;
  }

  /** Readings are lost from {@code afterSeconds} from now. */
  Scene loseReadings(double afterSeconds, double seconds) {
    gaps.add(new double[] {now + afterSeconds, seconds});
    return this;
  }

  /** Tare is pressed {@code afterSeconds} from now. */
  Scene tare(double afterSeconds) {
    tares.add(now + afterSeconds);
    return this;
  }

  double now() {
    return now;
  }

  List<Water> pours() {
    return pours;
  }

  Curve curve() {
    Random random = new Random(seed);
    Curve curve = new Curve(Place.WHOLE);
    double filtered = load.get(0) + offset;
    double zero = 0;
    int tared = 0;
    int reading = 0;
    List<Double> held = new ArrayList<>();
    for (int i = 0; i < load.size(); i++) {
      double t = i * STEP;
      double real = load.get(i) + offset;
      for (double[] push : pushes) {
        if (t >= push[0] && t < push[0] + push[2]) {
          real += push[1] * Math.sin(2 * Math.PI * push[3] * (t - push[0]));
        }
      }
      double own = Math.abs(real - filtered) > hurryAbove ? lag / hurryTimes : lag;
      filtered = own <= 0 ? real : filtered + (real - filtered) * (1 - Math.exp(-STEP / own));
      if (tared < tares.size() && t >= tares.get(tared)) {
        zero = filtered;
        tared++;
      }
      if (t < reading / rate) {
        continue;
      }
      reading++;
      double shown = filtered - zero + noise * random.nextGaussian();
      if (resolution > 0) {
        shown = Math.rint(shown / resolution) * resolution;
      }
      held.add(shown);
      if (held.size() == batch) {
        for (double mass : held) {
          boolean isLost = false;
          for (double[] gap : gaps) {
            isLost |= t >= gap[0] && t < gap[0] + gap[1];
          }
          if (!isLost) {
            curve.add(Math.round(t * 1e9), Math.round(mass * 1e9));
          }
        }
        held.clear();
      }
    }
    return curve;
  }

  Analysis analysed() {
    return analysed(DetectorSettings.standard());
  }

  Analysis analysed(DetectorSettings settings) {
    return Analysis.of(pourwright.rig.Rig.WHOLE, settings, List.of(curve()));
  }
}
