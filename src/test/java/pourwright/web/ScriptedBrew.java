package pourwright.web;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import pourwright.device.Bytes;
import pourwright.device.Chunk;
import pourwright.device.Decoder;
import pourwright.device.Transport.Arrival;
import pourwright.reading.Reading;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * A run of the demo plan as a test wants it: a tared rig, four pours that are near the plan or as
 * far off as told, a lift. Twenty readings a second from a scale with some noise and some lag.
 */
final class ScriptedBrew {
  /** First water (s of the recording). */
  static final double FIRST_WATER = 4;

  static final double LIFT = FIRST_WATER + 171;
  static final double END = LIFT + 8;

  private static final double RATE = 20;
  private static final double LAG_SECONDS = 0.25;
  private static final double RAMP_SECONDS = 0.6;

  private final List<double[]> pours = new ArrayList<>();
  private final long seed;
  private double lostFrom = Double.POSITIVE_INFINITY;
  private double lostTo = Double.POSITIVE_INFINITY;

  private ScriptedBrew(long seed) {
    this.seed = seed;
  }

  /** Within the plan's tolerances throughout. */
  static ScriptedBrew onPlan(long seed) {
    return new ScriptedBrew(seed)
        .pour(0, 42.4, 5.1)
        .pour(48.4, 65.6, 6.1)
        .pour(89.6, 78.3, 5.9)
        .pour(130.5, 77.6, 6.0);
  }

  /** Second pour too heavy, third one late and slow. */
  static ScriptedBrew offPlan(long seed) {
    return new ScriptedBrew(seed)
        .pour(0, 43.1, 5.2)
        .pour(48.8, 71.2, 7.3)
        .pour(92.9, 75.1, 4.8)
        .pour(131.0, 78.9, 6.1);
  }

  private ScriptedBrew pour(double at, double grams, double flow) {
    pours.add(new double[] {FIRST_WATER + at, grams, flow});
    return this;
  }

  /** The same pours, all of them this much later (s); the lift stays. */
  ScriptedBrew delayed(double seconds) {
    pours.forEach(pour -> pour[0] += seconds);
    return this;
  }

  ScriptedBrew lost(double from, double to) {
    lostFrom = from;
    lostTo = to;
    return this;
  }

  /** Water that has landed by {@code at} (g). */
  private double landed(double at) {
    double sum = 0;
    for (double[] pour : pours) {
      double length = pour[1] / pour[2] + RAMP_SECONDS;
      double since = at - pour[0];
      sum += pour[1] * ramped(since, length);
    }
    return sum - (at > LIFT ? 0.62 * 330 : 0);
  }

  /** A trapezoid of flow, integrated: up in the ramp time, level, down in the ramp time. */
  private static double ramped(double since, double length) {
    double ramp = RAMP_SECONDS;
    double whole = length - ramp;
    if (since <= 0) {
      return 0;
    }
    if (since >= length) {
      return 1;
    }
    if (since < ramp) {
      return since * since / (2 * ramp) / whole;
    }
    if (since <= length - ramp) {
      return (since - ramp / 2) / whole;
    }
    double left = length - since;
    return 1 - left * left / (2 * ramp) / whole;
  }

  List<Arrival> arrivals() {
    SplittableRandom random = new SplittableRandom(seed);
    List<Arrival> arrivals = new ArrayList<>();
    double shown = 0;
    boolean isLost = false;
    for (int i = 0; i <= END * RATE; i++) {
      double at = i / RATE;
      shown += (landed(at) - shown) * (1 - Math.exp(-1 / (RATE * LAG_SECONDS)));
      SessionTime time = SessionTime.ofSeconds(at);
      boolean isAway = at >= lostFrom && at < lostTo;
      if (isAway && !isLost) {
        arrivals.add(
            new Arrival.Lost(time, "The scale went away. Plug it in again; the run goes on."));
      } else if (!isAway && isLost) {
        arrivals.add(new Arrival.Restored(time));
      }
      isLost = isAway;
      if (!isAway) {
        double mass = shown + 0.06 * random.nextGaussian();
        String text = String.format(Locale.ROOT, "%.1f\n", mass);
        arrivals.add(new Arrival.Received(new Chunk(time, Bytes.ofAscii(text))));
      }
    }
    return arrivals;
  }

  /** One chunk is one number in grams. */
  static final class NumberDecoder implements Decoder {
    @Override
    public List<Decoded> feed(Chunk chunk) {
      String text = new String(chunk.bytes().toArray(), StandardCharsets.US_ASCII);
      Mass mass = Mass.ofGrams(Double.parseDouble(text.strip()));
      return List.of(new Decoded.Weighed(new Reading(chunk.at(), mass)));
    }

    @Override
    public void reset() {}
  }
}
