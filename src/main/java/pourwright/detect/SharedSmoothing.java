package pourwright.detect;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.IntStream;

/**
 * How the scale smooths and how the jet pushes: the same for all pours of a recording, so all their
 * edges are explained together (profile likelihood).
 */
final class SharedSmoothing {
  /** Lags that are tried when none was given (s); kitchen scales are somewhere here. */
  private static final double[] LAGS = {
    0.01, 0.06, 0.12, 0.2, 0.28, 0.36, 0.44, 0.52, 0.6, 0.68, 0.76, 0.86, 1.0
  };

  /** Between those lags the search goes on in parts of the lag, as far as to the next. */
  private static final double[] PARTS = {0.82, 0.88, 0.94, 1, 1.06, 1.12, 1.18};

  /** A shape that costs twice as much as the best, and this more, on the grid is none between. */
  private static final double UNLIKELIER = 30;

  /** A cost that was tried is interpolated in so many steps to the next. */
  private static final int FINER = 10;

  /** Push of the jet as time of flow (s): speed of fall over g, for falls of 0 to 45 cm. */
  private static final double[] PUSHES = {0, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3};

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

  /** So many pours tell enough of the scale. */
  private static final int MOST_ASKED = 10;

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
    List<PourEdges> telling = spread(pours.stream().filter(PourEdges::isLong).toList(), MOST_ASKED);
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
    double push = meanPush(telling);
    pours.forEach(edges -> edges.refine(kernel, push));
  }

  /** So many of them at most, evenly spread. */
  static <T> List<T> spread(List<T> all, int most) {
    int count = Math.min(most, all.size());
    return IntStream.range(0, count).mapToObj(i -> all.get(i * all.size() / count)).toList();
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

  /**
   * The smoothing that the edges tell of: the likeliest shape, with the mean of its lags weighted
   * by their likelihood, because lag, push and closing of the flow make up for each other and the
   * best of a flat likelihood is drawn by lot.
   */
  private Kernel likeliest(List<PourEdges> pours) {
    double least = Double.POSITIVE_INFINITY;
    EnumMap<Kernel.Kind, Guess> rough = new EnumMap<>(Kernel.Kind.class);
    for (Kernel.Kind kind : Kernel.Kind.values()) {
      for (double lag : LAGS) {
        double cost = cost(pours, kind.of(lag), 2 * least + UNLIKELIER);
        rough.merge(kind, new Guess(lag, cost), Guess::cheaper);
        least = Math.min(least, cost);
      }
    }
    double limit = 2 * least + UNLIKELIER;
    double best = Double.POSITIVE_INFINITY;
    Kernel found = kernel;
    for (Map.Entry<Kernel.Kind, Guess> shape : rough.entrySet()) {
      if (shape.getValue().cost() < limit) {
        List<Guess> guesses = new ArrayList<>();
        for (double part : PARTS) {
          double lag = part * shape.getValue().value();
          guesses.add(
              new Guess(lag, cost(pours, shape.getKey().of(lag), Double.POSITIVE_INFINITY)));
        }
        double cost = guesses.stream().reduce(shape.getValue(), Guess::cheaper).cost();
        if (cost < best) {
          best = cost;
          found = shape.getKey().of(mean(guesses));
        }
      }
    }
    return found;
  }

  /** What edges and lag cost; no more is asked once it is above {@code limit}. */
  private static double cost(List<PourEdges> pours, Kernel tried, double limit) {
    double unusual = Math.log(tried.lag() / USUAL_LAG) / LAG_LOG_SPREAD;
    double cost = unusual * unusual;
    for (PourEdges edges : pours) {
      // No edge costs less than nothing: what is dearer already cannot become the best.
      if (cost >= limit) {
        break;
      }
      edges.fit(tried, USUAL_PUSH);
      cost += edges.cost();
    }
    return cost;
  }

  /** A value that was tried, and what the edges cost with it. */
  record Guess(double value, double cost) {
    Guess cheaper(Guess other) {
      return other.cost < cost ? other : this;
    }
  }

  /**
   * Mean of the values, each weighted by its likelihood: e to minus half of its cost. Between
   * neighbours the cost is a cubic that is as steep at each as the line through its neighbours
   * (Catmull and Rom 1974), or a sharp best between two of them would be missed.
   *
   * @param guesses at least two, in steps of one length
   */
  static double mean(List<Guess> guesses) {
    int last = guesses.size() - 1;
    double[] cost = guesses.stream().mapToDouble(Guess::cost).toArray();
    double[] steep = new double[last + 1];
    for (int i = 0; i <= last; i++) {
      int low = Math.max(0, i - 1);
      int high = Math.min(last, i + 1);
      steep[i] = (cost[high] - cost[low]) / (high - low);
    }
    double least = Double.POSITIVE_INFINITY;
    double[] between = new double[last * FINER + 1];
    for (int k = 0; k < between.length; k++) {
      int i = Math.min(k / FINER, last - 1);
      double x = (double) k / FINER - i;
      double y = 1 - x;
      between[k] =
          y * y * (1 + 2 * x) * cost[i]
              + x * x * (1 + 2 * y) * cost[i + 1]
              + x * y * (y * steep[i] - x * steep[i + 1]);
      least = Math.min(least, between[k]);
    }
    double first = guesses.get(0).value();
    double step = (guesses.get(last).value() - first) / last / FINER;
    double weights = 0;
    double sum = 0;
    for (int k = 0; k < between.length; k++) {
      double weight = Math.exp((least - between[k]) / 2);
      weights += weight;
      sum += weight * (first + k * step);
    }
    return sum / weights;
  }

  private double meanPush(List<PourEdges> pours) {
    List<Guess> guesses = new ArrayList<>();
    for (double tried : PUSHES) {
      double cost = 0;
      for (PourEdges edges : pours) {
        cost += edges.costOf(kernel, tried);
      }
      guesses.add(new Guess(tried, cost));
    }
    return mean(guesses);
  }
}
