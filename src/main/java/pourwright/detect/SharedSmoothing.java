package pourwright.detect;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * How the scale smooths and how the jet pushes: the same for all pours of a recording, so all their
 * edges are explained together (profile likelihood).
 */
final class SharedSmoothing {
  /** Lags that are tried when none was given (s); kitchen scales are somewhere here. */
  private static final double[] LAGS = {0.01, 0.06, 0.12, 0.2, 0.3, 0.4, 0.55, 0.75, 1.0};

  /** Push of the jet as time of flow (s): speed of fall over g, for falls of 0 to 45 cm. */
  private static final double[] PUSHES = {0, 0.1, 0.2, 0.3};

  private static final double USUAL_PUSH = 0.1;

  /** Lag of a kitchen scale, give or take a factor of two and a half (s); prior. */
  private static final double USUAL_LAG = 0.15;

  private static final double LAG_LOG_SPREAD = 0.9;

  /**
   * A scale that follows big steps at once and smooths small changes has another lag in a pour than
   * at a step. Such scales are rare, so the edges must be likelier by e to half of that with a
   * longer lag; own choice.
   */
  private static final double SURELY_LIKELIER = 20;

  private static final double SLOWER = 1.25;

  /** Hands close a flow in less (s); own choice. */
  private static final double SLOW_CLOSING = 0.7;

  private final Optional<Kernel> known;
  private Kernel kernel;

  /**
   * @param known as given, or as the vessels put down showed it
   */
  SharedSmoothing(Optional<Kernel> known) {
    this.known = known;
    this.kernel = known.orElse(Kernel.Kind.ONE_STAGE.of(USUAL_LAG));
  }

  /** How the scale smooths, as known or found. */
  Kernel kernel() {
    return kernel;
  }

  /** Fits all edges with the smoothing and the push that explain them best. */
  void share(List<PourEdges> pours) {
    List<PourEdges> telling = pours.stream().filter(PourEdges::isLong).toList();
    if (known.isEmpty()) {
      kernel = likeliest(telling);
      fit(pours, kernel);
    } else {
      fit(pours, kernel);
      double cost = cost(telling);
      if (cost > readings(telling) || closesSlowly(telling)) {
        believeSlower(pours, telling, cost);
      }
    }
    double push = likeliestPush(telling);
    pours.forEach(edges -> edges.refine(kernel, push));
  }

  /** Takes the smoothing that the edges show, if it is slower and far likelier. */
  private void believeSlower(List<PourEdges> pours, List<PourEdges> telling, double cost) {
    Kernel seen = likeliest(telling);
    if (seen.lag() >= SLOWER * kernel.lag()) {
      fit(pours, seen);
      if (isFarLikelier(cost, cost(telling), readings(telling))) {
        kernel = seen;
        return;
      }
    }
    fit(pours, kernel);
  }

  /**
   * Whether a smaller sum of squares is no chance; what even that leaves unexplained is scatter the
   * noise did not tell of, and counts as such.
   */
  static boolean isFarLikelier(double cost, double smaller, int readings) {
    return (cost - smaller) / Math.max(1, smaller / readings) > SURELY_LIKELIER;
  }

  private static void fit(List<PourEdges> pours, Kernel kernel) {
    pours.forEach(edges -> edges.fit(kernel, USUAL_PUSH));
  }

  private static double cost(List<PourEdges> pours) {
    return pours.stream().mapToDouble(PourEdges::cost).sum();
  }

  private static int readings(List<PourEdges> pours) {
    return pours.stream().mapToInt(PourEdges::readings).sum();
  }

  /** Whether the flow seems to close more slowly than hands do: then it is the scale. */
  private static boolean closesSlowly(List<PourEdges> pours) {
    return pours.stream()
            .filter(PourEdges::hasEnd)
            .mapToDouble(edges -> edges.end().ramp())
            .average()
            .orElse(0)
        > SLOW_CLOSING;
  }

  /** The smoothing that makes the edges likeliest. */
  private Kernel likeliest(List<PourEdges> pours) {
    Kernel found = kernel;
    double best = Double.POSITIVE_INFINITY;
    for (Kernel tried : kernels()) {
      double unusual = Math.log(tried.lag() / USUAL_LAG) / LAG_LOG_SPREAD;
      double cost = unusual * unusual;
      for (PourEdges edges : pours) {
        // No edge costs less than nothing: what is dearer already cannot become the best.
        if (cost >= best) {
          break;
        }
        edges.fit(tried, USUAL_PUSH);
        cost += edges.cost();
      }
      if (cost < best) {
        best = cost;
        found = tried;
      }
    }
    return found;
  }

  private static List<Kernel> kernels() {
    List<Kernel> all = new ArrayList<>();
    for (Kernel.Kind kind : Kernel.Kind.values()) {
      for (double lag : LAGS) {
        all.add(kind.of(lag));
      }
    }
    return all;
  }

  private double likeliestPush(List<PourEdges> pours) {
    double found = 0;
    double best = Double.POSITIVE_INFINITY;
    for (double tried : PUSHES) {
      double cost = 0;
      for (PourEdges edges : pours) {
        cost += edges.costOf(kernel, tried);
      }
      if (cost < best) {
        best = cost;
        found = tried;
      }
    }
    return found;
  }
}
