package pourwright.detect;

import java.util.ArrayList;
import java.util.List;

/** Where water flows in a finished recording, and how the weight drifts where none does. */
final class FlowExtent {
  /** So long without flow, and what flows later is another pour (s). */
  private static final double QUIET_SECONDS = 1.6;

  /** After so long without flow, a rise has to last to be flow again (s). */
  private static final double PAUSE_SECONDS = 0.25;

  /** A level is taken over so long at least (s). */
  private static final double LEVEL_SECONDS = 0.25;

  /** A finger on a button pushes about so long (s). */
  private static final double PUSH_SECONDS = 0.2;

  /** Less is no flow that was resumed (g). */
  private static final double LEAST_RESUMED = 0.8;

  /** Evaporation with zero drift on top (g/s), and zero drift alone. */
  private static final double MOST_LOSS = -0.12;

  private static final double MOST_GAIN = 0.005;

  private final Track track;
  private final double liftAt;

  /**
   * @param liftAt when the dripper came off (s of the track); infinite when it never did
   */
  FlowExtent(Track track, double liftAt) {
    this.track = track;
    this.liftAt = liftAt;
  }

  /**
   * Where each candidate really stops flowing, seen from both sides; joins what belongs together.
   */
  List<Candidate> extended(List<Candidate> announced) {
    List<Candidate> found = new ArrayList<>();
    for (int i = 0; i < announced.size(); i++) {
      Candidate candidate = announced.get(i);
      double limit =
          i + 1 < announced.size()
              ? announced.get(i + 1).start() - 0.5
              : Math.min(liftAt - 0.3, track.last());
      double flow = usualFlow(candidate.start(), Math.max(candidate.end(), candidate.start() + 1));
      double end = lastFlow(candidate, flow, limit);
      Candidate whole = candidate.withEnd(Math.max(end, candidate.start() + 0.3));
      Candidate last = found.isEmpty() ? whole : found.get(found.size() - 1);
      if (!found.isEmpty() && whole.start() - last.end() < Judgement.SAME_POUR_SECONDS) {
        found.set(found.size() - 1, broughtWater(last, whole) ? last.joined(whole) : whole);
      } else {
        found.add(whole);
      }
    }
    return found;
  }

  /** Whether the weight is higher at the begin of the later than at that of the earlier. */
  private boolean broughtWater(Candidate earlier, Candidate later) {
    Track.Line before = track.line(earlier.start() - 0.6, earlier.start() - 0.1);
    Track.Line after = track.line(later.start() - 0.5, later.start());
    return before.readings() == 0
        || after.readings() == 0
        || after.level() - before.level() > PourRefiner.LEAST_WATER;
  }

  double usualFlow(double from, double to) {
    List<Double> slopes = new ArrayList<>();
    for (double t = from; t < to; t += 0.25) {
      Track.Line line = track.line(t - 0.1, t + 0.5);
      if (line.readings() >= 3) {
        slopes.add(line.slope());
      }
    }
    slopes.sort(Double::compare);
    return slopes.isEmpty() ? 4 : Math.max(0.8, slopes.get(slopes.size() * 6 / 10));
  }

  private double lastFlow(Candidate candidate, double flow, double limit) {
    double reach = Math.max(0.25, 1.5 * track.period());
    double wanted = 0.07 * flow;
    double noisy =
        Math.cbrt(12 * track.noise() * track.noise() * track.period() / (wanted * wanted)) / 2;
    double half = Math.min(1.0, Math.max(reach, noisy));
    double last = candidate.start();
    double t = candidate.start();
    while (t < limit) {
      Track.Line line = track.line(t - half, t + half);
      boolean flows = line.readings() >= 3 && line.slope() > 0.35 * flow;
      if (flows && (t - last < PAUSE_SECONDS || cameToStay(last, t, half))) {
        last = t;
      } else if (t - last > quiet(line) && t > candidate.end() - 1) {
        break;
      }
      t += 0.1;
    }
    return last;
  }

  /**
   * Missing readings are no rest, unless they are missing for longer than a pour goes on unseen.
   */
  private static double quiet(Track.Line line) {
    return line.readings() >= 3 ? QUIET_SECONDS : Phase.Pouring.LONGEST_GAP_SECONDS;
  }

  /** Whether what rises at {@code t} after a pause stays, as no push does. */
  private boolean cameToStay(double last, double t, double half) {
    double gone = t - half;
    Track.Line before = track.line(Math.min(last + half, gone - LEVEL_SECONDS), gone);
    Track.Line after = track.line(t + half + PUSH_SECONDS, t + 2 * half + 2 * PUSH_SECONDS);
    if (after.readings() < 2) {
      return track.last() - t < 1;
    }
    return before.readings() < 2
        || after.level() - before.level() > LEAST_RESUMED + 4 * track.noise();
  }

  /** Slope of the rests between the pours (g/s): evaporation and zero drift. */
  double restDrift(List<Candidate> candidates) {
    List<double[]> stretches = new ArrayList<>();
    for (int i = 0; i < candidates.size(); i++) {
      double from = candidates.get(i).end() + 2.5;
      double to =
          (i + 1 < candidates.size()
                  ? candidates.get(i + 1).start()
                  : Math.min(liftAt, track.last()))
              - 0.8;
      if (to - from > 2) {
        stretches.addAll(undisturbed(from, to));
      }
    }
    double straightest = Double.POSITIVE_INFINITY;
    for (double[] stretch : stretches) {
      Track.Line line = track.line(stretch[0], stretch[1]);
      if (stretch[1] - stretch[0] > 2 && line.readings() >= 6) {
        straightest = Math.min(straightest, line.squares() / line.readings());
      }
    }
    double limit = Math.max(6 * track.noise() * track.noise(), 2.5 * straightest);
    double sum = 0;
    double weight = 0;
    for (double[] stretch : stretches) {
      double length = stretch[1] - stretch[0];
      Track.Line line = track.line(stretch[0], stretch[1]);
      if (length > 2 && line.readings() >= 6 && line.squares() <= limit * line.readings()) {
        double w = length * length * length;
        sum += w * line.slope();
        weight += w;
      }
    }
    return weight == 0 ? 0 : Math.max(MOST_LOSS, Math.min(MOST_GAIN, sum / weight));
  }

  /** The parts of a stretch without masked readings. */
  private List<double[]> undisturbed(double from, double to) {
    List<double[]> parts = new ArrayList<>();
    double start = Double.NaN;
    double last = Double.NaN;
    for (int i = track.indexAt(from); i < track.size() && track.time(i) <= to; i++) {
      if (track.isMasked(i)) {
        if (!Double.isNaN(start)) {
          parts.add(new double[] {start, last});
        }
        start = Double.NaN;
      } else {
        if (Double.isNaN(start)) {
          start = track.time(i);
        }
        last = track.time(i);
      }
    }
    if (!Double.isNaN(start)) {
      parts.add(new double[] {start, last});
    }
    return parts;
  }
}
