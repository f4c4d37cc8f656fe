package pourwright.detect;

import java.util.List;
import java.util.Optional;

/** Finds when the dripper was taken off, and what the scale lost by it. */
final class LiftFit {
  /** A lift takes no longer (s). */
  private static final double LONGEST = 1.5;

  private static final double WORST_MISFIT = 10;
  private static final double LEVEL_SECONDS = 2.5;

  private LiftFit() {}

  /** The lift (s, g). */
  record Lift(double at, double removed, double levelAfter) {}

  static Optional<Lift> find(Track track, List<PourEvent> announced) {
    double from = Double.NEGATIVE_INFINITY;
    for (PourEvent event : announced) {
      if (event instanceof PourEvent.DripperLifted lifted) {
        return fit(track, track.seconds(lifted.at()));
      }
      if (event instanceof PourEvent.PourStarted started) {
        from = Math.max(from, track.seconds(started.at()));
      }
    }
    return lastFall(track, from, announced).flatMap(at -> fit(track, at));
  }

  /** The last big fall after the last pour began from which the weight never came back. */
  private static Optional<Double> lastFall(Track track, double from, List<PourEvent> announced) {
    int n = track.size();
    if (n < 5 || Double.isInfinite(from)) {
      return Optional.empty();
    }
    double highestAfter = track.mass(n - 1);
    double steepest = 0;
    double at = Double.NaN;
    int j = n - 1;
    for (int i = n - 1; i >= 0 && track.time(i) > from; i--) {
      while (j > i && track.time(j) - track.time(i) > LONGEST) {
        highestAfter = Math.max(highestAfter, track.mass(j));
        j--;
      }
      double fall = track.mass(i) - Math.max(highestAfter, track.mass(j));
      if (fall > steepest) {
        steepest = fall;
        at = track.time(i);
      }
      boolean isPassed = !Double.isNaN(at) && at - track.time(i) > LONGEST;
      if (isPassed && steepest > Judgement.LEAST_LIFT) {
        break;
      }
    }
    double found = at;
    boolean isTare =
        announced.stream()
            .anyMatch(
                event ->
                    event instanceof PourEvent.Tared
                        && Math.abs(track.seconds(event.at()) - found) < LONGEST);
    return steepest < Judgement.LEAST_LIFT || isTare ? Optional.empty() : Optional.of(at);
  }

  /** The same lift with the scale's lag taken off. */
  static Lift refined(Track track, Lift lift, Kernel kernel) {
    StepFit step = new StepFit(track, lift.at(), Double.POSITIVE_INFINITY);
    if (step.isUsable()) {
      StepFit.Fit fit = step.fit(kernel);
      if (fit.misfit() < WORST_MISFIT && Math.abs(fit.at()) < 3 * kernel.lag() + 0.2) {
        return new Lift(lift.at() + fit.at(), lift.removed(), lift.levelAfter());
      }
    }
    return new Lift(lift.at() - 0.7 * kernel.lag(), lift.removed(), lift.levelAfter());
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
