package pourwright.roving;

import java.util.ArrayDeque;
import java.util.List;
import java.util.Optional;
import pourwright.reading.Reading;
import pourwright.units.SessionTime;

/** The readings of the last two seconds. */
final class Recent {
  private static final double KEPT_SECONDS = 2;

  /** A scale at rest moves by no more than this, or by one step of its display (g). */
  private static final double STILL_GRAMS = 0.6;

  private static final double STILL_SECONDS = 0.5;
  private static final int LEAST_READINGS = 3;

  private static final double RISE_SECONDS = 1;

  /** Flows of a kettle (g/s). */
  private static final double LEAST_FLOW = 2;

  private static final double MOST_FLOW = 15;

  /** Water makes a straight line, within this or one step of the display (g). */
  private static final double BEND_GRAMS = 0.5;

  /** Of what water brought in the first half of a second, the second half brings this part. */
  private static final double LEAST_LATE_PART = 0.5;

  private final ArrayDeque<Reading> readings = new ArrayDeque<>();
  private double stepGrams = STILL_GRAMS;
  private boolean hasStep;

  void add(Reading reading) {
    Reading before = readings.peekLast();
    if (before != null) {
      double change = Math.abs(reading.mass().minus(before.mass()).grams());
      if (change > 0) {
        stepGrams = hasStep ? Math.min(stepGrams, change) : change;
        hasStep = true;
      }
    }
    readings.addLast(reading);
    while (reading.at().secondsSince(readings.getFirst().at()) > KEPT_SECONDS) {
      readings.removeFirst();
    }
  }

  void clear() {
    readings.clear();
  }

  /** The highest of the last half second (g). */
  double highest() {
    Reading last = readings.getLast();
    return readings.stream()
        .filter(reading -> last.at().secondsSince(reading.at()) <= STILL_SECONDS)
        .mapToDouble(reading -> reading.mass().grams())
        .max()
        .orElseThrow();
  }

  /** Median of what was shown in the second up to a moment (g); empty when nothing was. */
  Optional<Double> levelBefore(SessionTime moment) {
    double[] shown =
        readings.stream()
            .filter(reading -> reading.at().isBefore(moment))
            .filter(reading -> moment.secondsSince(reading.at()) <= 1)
            .mapToDouble(reading -> reading.mass().grams())
            .sorted()
            .toArray();
    return shown.length == 0 ? Optional.empty() : Optional.of(shown[shown.length / 2]);
  }

  /**
   * The readings of the last second, if they rise as steadily as water does.
   *
   * <p>A display that settles after a rig was put down rises too, but in a bend.
   */
  List<Reading> steadyRise() {
    Reading last = readings.peekLast();
    if (last == null || last.at().secondsSince(readings.getFirst().at()) < RISE_SECONDS) {
      return List.of();
    }
    List<Reading> rise =
        readings.stream()
            .filter(reading -> last.at().secondsSince(reading.at()) <= RISE_SECONDS)
            .toList();
    double time = 0;
    double mass = 0;
    for (Reading reading : rise) {
      time += seconds(reading, last) / rise.size();
      mass += reading.mass().grams() / rise.size();
    }
    double together = 0;
    double square = 0;
    for (Reading reading : rise) {
      double off = seconds(reading, last) - time;
      together += off * (reading.mass().grams() - mass);
      square += off * off;
    }
    double slope = square > 0 ? together / square : 0;
    double worst = 0;
    for (Reading reading : rise) {
      double line = mass + slope * (seconds(reading, last) - time);
      worst = Math.max(worst, Math.abs(reading.mass().grams() - line));
    }
    boolean isWater =
        slope > LEAST_FLOW && slope < MOST_FLOW && worst < Math.max(BEND_GRAMS, stepOfDisplay());
    return isWater && rise.size() >= 2 * LEAST_READINGS && goesOn(rise) ? rise : List.of();
  }

  /** Whether it does not slow down as a display does that comes to rest. */
  private boolean goesOn(List<Reading> rise) {
    double middle = rise.get(rise.size() / 2).mass().grams();
    double early = middle - rise.get(0).mass().grams();
    double late = rise.get(rise.size() - 1).mass().grams() - middle;
    return late + stepOfDisplay() > LEAST_LATE_PART * early;
  }

  /** As far as it is known by now, and a little more (g). */
  private double stepOfDisplay() {
    return Math.min(1.0, stepGrams) * 1.05;
  }

  private static double seconds(Reading reading, Reading last) {
    return reading.at().secondsSince(last.at());
  }

  /** Mean of the last half second (g), if nothing moved in it. */
  Optional<Double> stillLevel() {
    Reading last = readings.peekLast();
    if (last == null || last.at().secondsSince(readings.getFirst().at()) < STILL_SECONDS) {
      return Optional.empty();
    }
    double low = Double.POSITIVE_INFINITY;
    double high = Double.NEGATIVE_INFINITY;
    double sum = 0;
    int count = 0;
    for (Reading reading : readings) {
      if (last.at().secondsSince(reading.at()) <= STILL_SECONDS) {
        double grams = reading.mass().grams();
        low = Math.min(low, grams);
        high = Math.max(high, grams);
        sum += grams;
        count++;
      }
    }
    // a coarse display jumps to and fro by one step
    boolean isStill = high - low <= Math.max(STILL_GRAMS, stepOfDisplay());
    return isStill && count >= LEAST_READINGS ? Optional.of(sum / count) : Optional.empty();
  }
}
