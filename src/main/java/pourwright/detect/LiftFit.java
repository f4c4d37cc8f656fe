package pourwright.detect;

import java.util.List;
import java.util.Optional;

/** Finds when the dripper was taken off, and what the scale lost by it. */
final class LiftFit {
  /** A lift takes no longer (s). */
  private static final double LONGEST = 1.5;

  private static final double LEVEL_SECONDS = 2.5;

  private LiftFit() {}

  /** The lift (s, g). */
  record Lift(double at, double removed, double levelAfter) {}

  static Optional<Lift> find(Track track, List<PourEvent> announced) {
    double from = Double.POSITIVE_INFINITY;
    for (PourEvent event : announced) {
      if (event instanceof PourEvent.DripperLifted lifted) {
        return fit(track, track.seconds(lifted.at()));
      }
      if (event instanceof PourEvent.PourStarted started) {
        from = Math.min(from, track.seconds(started.at()) + 1);
      }
    }
    return lastFall(track, from, announced).flatMap(at -> fit(track, at));
  }

  /** The last big fall after the first pour from which the weight never came back. */
  private static Optional<Double> lastFall(Track track, double from, List<PourEvent> announced) {
    int n = track.size();
    if (n < 5 || Double.isInfinite(from)) {
      return Optional.empty();
    }
    double highestAfter = Double.NEGATIVE_INFINITY;
    int j = n - 1;
    for (int i = n - 1; i >= 0 && track.time(i) > from; i--) {
      while (j > i && track.time(j) - track.time(i) > LONGEST / 2) {
        highestAfter = Math.max(highestAfter, track.mass(j));
        j--;
      }
      double after = Math.max(highestAfter, track.mass(n - 1));
      double fall = track.mass(i) - after;
      if (fall > Judgement.LEAST_LIFT
          && track.mass(i) - track.mass(Math.min(n - 1, j)) > 0.8 * fall) {
        double at = track.time(i);
        boolean isTare =
            announced.stream()
                .anyMatch(
                    event ->
                        event instanceof PourEvent.Tared
                            && Math.abs(track.seconds(event.at()) - at) < 1.5);
        return isTare ? Optional.empty() : Optional.of(at);
      }
      if (fall < -Judgement.LEAST_LIFT) {
        return Optional.empty();
      }
    }
    return Optional.empty();
  }

  private static Optional<Lift> fit(Track track, double near) {
    double before = mean(track, near - LEVEL_SECONDS, near - 0.5);
    int low = track.indexAt(near - 0.6);
    double after = mean(track, near + LONGEST, near + LONGEST + LEVEL_SECONDS);
    if (Double.isNaN(after)) {
      after = mean(track, track.last() - 0.3, track.last());
    }
    if (Double.isNaN(before)) {
      before = track.mass(Math.max(0, low - 1));
    }
    double half = (before + after) / 2;
    int last = -1;
    for (int i = low; i < track.size() - 1 && track.time(i) < near + LONGEST; i++) {
      if (track.mass(i) > half && track.mass(i + 1) <= half) {
        last = i;
      }
    }
    if (last < 0) {
      return Optional.empty();
    }
    double share = (track.mass(last) - half) / (track.mass(last) - track.mass(last + 1));
    double at = track.time(last) + share * (track.time(last + 1) - track.time(last));
    return Optional.of(new Lift(at, before - after, after));
  }

  private static double mean(Track track, double from, double to) {
    double sum = 0;
    int n = 0;
    for (int i = track.indexAt(from); i < track.size() && track.time(i) <= to; i++) {
      sum += track.mass(i);
      n++;
    }
    return n == 0 ? Double.NaN : sum / n;
  }
}
