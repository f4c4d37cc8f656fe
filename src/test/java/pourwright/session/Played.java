package pourwright.session;

import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.function.DoubleUnaryOperator;
import pourwright.coach.Feedback;
import pourwright.detect.DetectorSettings;
import pourwright.device.Bytes;
import pourwright.device.Chunk;
import pourwright.device.Decoder;
import pourwright.device.ScaleCommands;
import pourwright.device.Transport;
import pourwright.plan.PlanReader;
import pourwright.plan.PlanReading;
import pourwright.reading.Reading;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/** Small made-up scales and set-ups for tests of a rehearsal. */
public final class Played {
  static final String PLAN =
      """
      format: 1
      title: Two pours
      dose_g: 16
      water_g: 100
      pours:
        - {add_g: 40, flow_g_per_s: 5.0, start: {at_s: 0}}
        - {add_g: 60, flow_g_per_s: 6.0, start: {at_s: 20}}
      """;

  private Played() {}

  /** Two pours of {@link #PLAN} begun at 3 s on a tared rig, and a lift at 40 s. */
  public static double twoPours(double at) {
    double first = Math.max(0, Math.min(40, (at - 3) * 5));
    double second = Math.max(0, Math.min(60, (at - 23) * 6));
    return first + second - (at > 40 ? 70 : 0);
  }

  /** Ten readings a second of a mass that changes with time. */
  public static List<Transport.Arrival> weights(double seconds, DoubleUnaryOperator grams) {
    SplittableRandom noise = new SplittableRandom(5);
    List<Transport.Arrival> arrivals = new ArrayList<>();
    for (int i = 0; i <= seconds * 10; i++) {
      double mass = grams.applyAsDouble(i / 10.0) + 0.1 * (noise.nextDouble() - 0.5);
      arrivals.add(
          new Transport.Arrival.Received(
              new Chunk(
                  SessionTime.ofMillis(i * 100L),
                  Bytes.ofAscii(String.format(Locale.ROOT, "%.1f\n", mass)))));
    }
    return arrivals;
  }

  /** A scale that plays what is given and then ends. */
  public static PlacedScale scale(int lane, Place place, List<Transport.Arrival> arrivals) {
    return new PlacedScale(
        new Stand(lane, place),
        "test:" + place.word(),
        "one-number",
        true,
        new PlayedTransport(arrivals),
        new NumberDecoder(),
        ScaleCommands.NONE);
  }

  /** A lane of {@link #PLAN}. */
  static RunStart.Lane lane(int number, Rig rig) {
    PlanReading.Understood plan = (PlanReading.Understood) PlanReader.read(PLAN, "two-pours.yaml");
    return new RunStart.Lane(
        number,
        "brewer " + number,
        rig,
        Optional.of(new RunStart.WrittenPlan(PLAN, plan.plan())),
        rig.places().stream()
            .map(
                place ->
                    new RunStart.HeardScale(
                        new Stand(number, place), "test:" + place.word(), "one-number"))
            .toList());
  }

  /** A set-up of one lane per rig. */
  public static Setup setup(List<Rig> rigs, List<PlacedScale> scales) {
    List<RunStart.Lane> lanes = new ArrayList<>();
    for (int i = 0; i < rigs.size(); i++) {
      lanes.add(lane(i + 1, rigs.get(i)));
    }
    RunStart start =
        new RunStart(
            Instant.parse("2026-03-01T10:00:00Z"),
            "pourwright test",
            false,
            Feedback.FULL,
            0,
            lanes);
    return new Setup(
        start,
        rigs.stream().map(rig -> DetectorSettings.standard()).toList(),
        scales,
        Setup.USUAL_IDLE_LIMIT);
  }

  /** Gives what it was given, as fast as it is asked. */
  private static final class PlayedTransport implements Transport {
    private final ArrayDeque<Arrival> left;
    private SessionTime last = SessionTime.ZERO;

    PlayedTransport(List<Arrival> arrivals) {
      left = new ArrayDeque<>(arrivals);
    }

    @Override
    public Arrival receive(Duration patience) {
      Arrival next = left.poll();
      if (next == null) {
        return new Arrival.Ended(last);
      }
      last = next.at();
      return next;
    }

    @Override
    public void send(Bytes command) {}

    @Override
    public void close() {}
  }

  /** One chunk is one number in grams; anything else is junk. */
  private static final class NumberDecoder implements Decoder {
    @Override
    public List<Decoded> feed(Chunk chunk) {
      String text = new String(chunk.bytes().toArray(), StandardCharsets.US_ASCII);
      try {
        Mass mass = Mass.ofGrams(Double.parseDouble(text.strip()));
        return List.of(new Decoded.Weighed(new Reading(chunk.at(), mass)));
      } catch (NumberFormatException e) {
        return List.of(new Decoded.Junk(chunk.at(), chunk.bytes(), "not a number"));
      }
    }

    @Override
    public void reset() {}
  }
}
