package pourwright.detect;

import java.util.List;
import java.util.Optional;

/** Finds when the dripper was taken off, and what the scale lost by it. */
final class LiftFit {
  /** A lift takes no longer (s). */
  private static final double LONGEST = 1.5;

  /** Lags after which a step has settled to a thousandth or so. */
  private static final double SETTLING_LAGS = 6;

  private static final double WORST_MISFIT = 10;
  private static final double LEVEL_SECONDS = 2.5;

  private LiftFit() {}

  /** The lift (s, g). */
  record Lift(double at, double removed, double levelAfter) {}

  static Optional<Lift> find(DetectorSettings settings, Track track, List<PourEvent> announced) {
    double from = Double.NEGATIVE_INFINITY;
    Optional<PourEvent> last = Optional.empty();
    for (PourEvent event : announced) {
      if (event instanceof PourEvent.DripperLifted) {
        last = last.or(() -> Optional.of(event));
      } else if (event instanceof PourEvent.PourStarted started) {
        from = Math.max(from, track.seconds(started.at()));
        last = Optional.empty();
      } else if (event instanceof PourEvent.Discarded) {
        from = Math.max(from, track.seconds(event.knownAt()));
        last = Optional.empty();
      }
    }
    double since = last.map(event -> track.seconds(event.at()) - LONGEST).orElse(from);
    // Behind a gap, a lift is only said to have been somewhere in it.
    return last.flatMap(event -> fit(track, track.seconds(event.at())))
        .or(
            () ->
                lastFall(track, since, announced, Judgement.leastLift(settings))
                    .flatMap(at -> fit(track, at)));
  }

  /** The last big fall after the last pour began from which the weight never came back. */
  private static Optional<Double> lastFall(
      Track track, double from, List<PourEvent> announced, double least) {
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
      if (isPassed && steepest > least) {
        break;
      }
    }
    double found = at;
    boolean isExplained =
        announced.stream()
            .anyMatch(
                event ->
                    (event instanceof PourEvent.Tared
                            || (event instanceof PourEvent.Disturbed disturbed
                                && disturbed.kind() == Disturbance.Kind.OBJECT_REMOVED))
                        && Math.abs(track.seconds(event.at()) - found) < LONGEST);
    return steepest < least || isExplained ? Optional.empty() : Optional.of(at);
  }

  /** The same lift with the scale's lag taken off. */
  static Lift refined(Track track, Lift lift, Kernel kernel) {
    StepFit step =
        new StepFit(track, lift.at(), Double.NEGATIVE_INFINITY, Double.POSITIVE_INFINITY);
    double at = lift.at() - 0.7 * kernel.lag();
    if (step.isUsable()) {
      StepFit.Fit fit = step.fit(kernel);
      if (fit.misfit() < WORST_MISFIT && Math.abs(fit.at()) < 3 * kernel.lag() + 0.2) {
        at = lift.at() + fit.at();
      }
    }
    return settled(track, lift, kernel, at);
  }

  /** Takes off what a slow scale still had to fall when the level after the lift was taken. */
  private static Lift settled(Track track, Lift lift, Kernel kernel, double at) {
    double from =
        Math.min(at + Math.max(LONGEST, SETTLING_LAGS * kernel.lag()), track.last() - 0.5);
    double sum = 0;
    double settled = 0;
    int n = 0;
    for (int i = track.indexAt(from);
        i < track.size() && track.time(i) < from + LEVEL_SECONDS;
        i++) {
      sum += track.mass(i);
      settled += kernel.step(track.time(i) - at);
      n++;
    }
    if (n == 0 || settled < 0.9 * n) {
      return new Lift(at, lift.removed(), lift.levelAfter());
    }
    double before = lift.levelAfter() + lift.removed();
    double removed = (before - sum / n) / (settled / n);
    return new Lift(at, removed, before - removed);
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
