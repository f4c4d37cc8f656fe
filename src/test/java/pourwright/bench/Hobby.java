package pourwright.bench;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import pourwright.detect.Findings;
import pourwright.detect.PourEvent;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * The yardstick: a threshold on the slope of a moving average, as one would write it in an evening.
 */
final class Hobby implements Finder {
  private static final double WINDOW_SECONDS = 0.5;
  private static final double POURING_GRAMS_PER_SECOND = 1.2;
  private static final double RESTING_GRAMS_PER_SECOND = 0.5;
  private static final double REST_SECONDS = 0.8;
  private static final double LEAST_GRAMS = 5;

  @Override
  public Found find(Take take) {
    List<PourEvent> announced = new ArrayList<>();
    List<Findings.Pour> pours = new ArrayList<>();
    List<Take.Sample> samples = take.leading().samples();
    int window = Math.max(2, (int) (WINDOW_SECONDS * take.leading().rateHz()));
    boolean isPouring = false;
    double start = 0;
    double startKnown = 0;
    double startGrams = 0;
    double lastMoving = 0;
    for (int i = 2 * window; i < samples.size(); i++) {
      double now = samples.get(i).seconds();
      double later = mean(samples, i - window, i);
      double earlier = mean(samples, i - 2 * window, i - window);
      double slope = (later - earlier) / Math.max(0.1, now - samples.get(i - window).seconds());
      if (!isPouring && slope > POURING_GRAMS_PER_SECOND) {
        isPouring = true;
        start = samples.get(i - window).seconds();
        startKnown = now;
        startGrams = earlier;
        lastMoving = now;
        announced.add(new PourEvent.PourStarted(pours.size() + 1, time(start), time(startKnown)));
      } else if (isPouring) {
        if (slope > RESTING_GRAMS_PER_SECOND) {
          lastMoving = now;
        } else if (now - lastMoving > REST_SECONDS) {
          isPouring = false;
          double poured = later - startGrams;
          double end = lastMoving - WINDOW_SECONDS / 2;
          announced.add(
              new PourEvent.PourEnded(
                  pours.size() + 1, time(end), time(now), Mass.ofGrams(poured)));
          pours.add(
              new Findings.Pour(
                  pours.size() + 1,
                  time(start),
                  time(end),
                  Mass.ofGrams(poured),
                  Flow.of(Mass.ofGrams(poured), Math.max(0.1, end - start)),
                  Optional.of(time(startKnown)),
                  Optional.of(time(now)),
                  false));
        }
      }
    }
    pours.removeIf(pour -> pour.poured().grams() < LEAST_GRAMS);
    return new Found(
        announced,
        new Findings(
            take.rig(), pours, List.of(), Optional.empty(), List.of(), List.of(), List.of()));
  }

  private static double mean(List<Take.Sample> samples, int from, int until) {
    double sum = 0;
    for (int i = from; i < until; i++) {
      sum += samples.get(i).grams();
    }
    return sum / (until - from);
  }

  private static SessionTime time(double seconds) {
    return SessionTime.ofSeconds(seconds);
  }
}
