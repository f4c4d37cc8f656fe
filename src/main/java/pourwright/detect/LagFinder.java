package pourwright.detect;

import java.util.List;
import java.util.Optional;

/** Measures a scale's lag from the vessels that were put on and taken off in the recording. */
final class LagFinder {
  private static final double[] LAGS = {
    0.01, 0.03, 0.06, 0.1, 0.15, 0.2, 0.26, 0.33, 0.41, 0.5, 0.6, 0.72, 0.86, 1.0
  };

  /** A step that fits worse was not one clean step. */
  private static final double WORST_MISFIT = 6;

  private static final double LEAST_STEP = 15;

  /** Between two lags of the grid the search goes on by this part of the lag, then by halves. */
  private static final double WIDEST_PART = 0.1;

  private static final double FINEST_PART = 0.01;

  private LagFinder() {}

  /** Smoothing that explains the steps best; empty when there is no clean step. */
  static Optional<Kernel> find(Track track, List<Double> moments, List<Double> tares) {
    List<StepFit> steps =
        moments.stream()
            .map(
                moment ->
                    new StepFit(
                        track, moment, lastBefore(tares, moment), firstAfter(tares, moment)))
            .filter(step -> step.isUsable() && Math.abs(step.change()) > LEAST_STEP)
            .toList();
    Kernel best = null;
    double least = Double.POSITIVE_INFINITY;
    for (Kernel.Kind kind : Kernel.Kind.values()) {
      Kernel found = likeliest(steps, kind);
      double cost = cost(steps, found);
      if (cost < least) {
        least = cost;
        best = found;
      }
    }
    return Optional.ofNullable(best);
  }

  /** The smoothing of one shape that explains the steps best: the lag on a grid, then between. */
  private static Kernel likeliest(List<StepFit> steps, Kernel.Kind kind) {
    double least = Double.POSITIVE_INFINITY;
    double best = LAGS[0];
    for (double lag : LAGS) {
      double cost = cost(steps, kind.of(lag));
      if (cost < least) {
        least = cost;
        best = lag;
      }
    }
    for (double part = WIDEST_PART; part > FINEST_PART; part /= 2) {
      double middle = best;
      for (double lag : new double[] {middle * (1 - part), middle * (1 + part)}) {
        double cost = cost(steps, kind.of(lag));
        if (cost < least) {
          least = cost;
          best = lag;
        }
      }
    }
    return kind.of(best);
  }

  private static double lastBefore(List<Double> tares, double moment) {
    return tares.stream()
            .filter(tare -> tare < moment)
            .max(Double::compare)
            .orElse(Double.NEGATIVE_INFINITY)
        + 0.02;
  }

  private static double firstAfter(List<Double> tares, double moment) {
    return tares.stream().filter(tare -> tare > moment).min(Double::compare).orElse(moment + 10)
        - 0.02;
  }

  /** Sum over the clean steps, none of which counts for more than a bad one would. */
  private static double cost(List<StepFit> steps, Kernel kernel) {
    double sum = 0;
    int clean = 0;
    for (StepFit step : steps) {
      double misfit = step.fit(kernel).misfit();
      sum += Math.min(WORST_MISFIT, misfit);
      clean += misfit < WORST_MISFIT ? 1 : 0;
    }
    return clean == 0 ? Double.POSITIVE_INFINITY : sum;
  }
}
