package pourwright.performance;

import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import pourwright.metrology.UncertaintyBudget;
import pourwright.metrology.UncertaintyBudget.Contribution;
import pourwright.statistic.Sample;

/**
 * How the display follows a sudden change.
 *
 * @param filter the shape that fits best
 * @param filterLag by how much smoothing delays a steadily rising weight (s)
 * @param deadTime what comes on top before the display moves at all (s), where the brewer moved on
 *     a beat; without a beat it cannot be told from a late hand
 * @param totalLag both (s); without a beat that of the filter alone
 * @param changes how many were used
 */
public record StepResponse(
    Filter filter,
    Estimate filterLag,
    Optional<Estimate> deadTime,
    Estimate totalLag,
    int changes) {

  /** A hand takes a weight off within 0 to 0.12 s; own choice, no source. */
  private static final double HAND_SECONDS = 0.06;

  /**
   * People keep a beat with a bias of their own, of this standard uncertainty (s); from memory:
   * taps come 0.02 to 0.08 s early.
   */
  private static final double BEAT_BIAS_SECONDS = 0.035;

  private static final double SHORTEST = 0.004;
  private static final double LONGEST = 3;
  private static final int COARSE = 20;
  private static final int FINE = 23;
  private static final double FINE_FACTOR = 2.2;
  private static final int LEAST_CHANGES = 3;

  /** A change that fits this many times worse than the usual one was no single clean change. */
  private static final double WORST_FIT = 6;

  /** Shapes that fit up to this much worse than the best are not ruled out. */
  private static final double NEAR_FIT = 1.5;

  /**
   * What these changes tell; empty with fewer than three clean ones.
   *
   * @param traces changes that came at once, up or down
   */
  public static Optional<StepResponse> find(List<StepTrace> traces) {
    List<Changed> clean = new ArrayList<>();
    for (StepTrace trace : traces) {
      if (!trace.isPushed()) {
        Changed.find(trace).ifPresent(clean::add);
      }
    }
    if (clean.size() < LEAST_CHANGES) {
      return Optional.empty();
    }
    double[] coarse = grid(SHORTEST, LONGEST, COARSE);
    List<Changed> kept = withoutOutliers(clean, coarse);
    if (kept.size() < LEAST_CHANGES) {
      return Optional.empty();
    }
    Map<Filter, Table> tables = new EnumMap<>(Filter.class);
    for (Filter filter : Filter.values()) {
      tables.put(filter, Table.around(kept, filter, coarse, HAND_SECONDS));
    }
    Map.Entry<Filter, Table> best =
        Collections.min(
            tables.entrySet(), Comparator.comparingDouble(entry -> entry.getValue().least()));
    double rival =
        tables.values().stream()
            .filter(table -> table.least() < NEAR_FIT * best.getValue().least())
            .mapToDouble(table -> Math.abs(table.lag() - best.getValue().lag()))
            .max()
            .orElse(0);
    return Optional.of(fitted(kept, best.getKey(), best.getValue(), rival));
  }

  private static List<Changed> withoutOutliers(List<Changed> clean, double[] coarse) {
    double[] costs = new double[clean.size()];
    Table table = Table.of(clean, Filter.SECOND, coarse, HAND_SECONDS);
    Table other = Table.of(clean, Filter.FIRST, coarse, HAND_SECONDS);
    for (int i = 0; i < costs.length; i++) {
      costs[i] = Math.min(table.own(i), other.own(i));
    }
    double limit = WORST_FIT * Math.max(Sample.of(costs).median(), 1e-5);
    List<Changed> kept = new ArrayList<>();
    for (int i = 0; i < costs.length; i++) {
      if (costs[i] <= limit) {
        kept.add(clean.get(i));
      }
    }
    return kept;
  }

  private static StepResponse fitted(List<Changed> kept, Filter filter, Table table, double rival) {
    double lag = table.lag();
    double quick = Table.of(kept, filter, table.lags(), 1e-3).lag();
    double slow = Table.of(kept, filter, table.lags(), 2 * HAND_SECONDS).lag();
    Contribution spread =
        new Contribution("change to change", table.jackknife(), kept.size() - 1.0);
    Contribution hand =
        new Contribution(
            "time the hand takes",
            Math.abs(quick - slow) / Math.sqrt(12),
            Double.POSITIVE_INFINITY);
    Contribution shape = Contribution.rectangular("shape of the smoothing", rival / 2);
    Estimate filterLag = Estimate.of(lag, UncertaintyBudget.of(spread, hand, shape)).atLeastZero();

    double[] afterBeat =
        kept.stream()
            .filter(change -> change.trace.beat().isPresent())
            .mapToDouble(
                change ->
                    change.bestMiddle(filter, lag, HAND_SECONDS)
                        - change.trace.beat().orElseThrow())
            .toArray();
    if (afterBeat.length < LEAST_CHANGES) {
      return new StepResponse(filter, filterLag, Optional.empty(), filterLag, kept.size());
    }
    Sample middles = Sample.of(afterBeat);
    Contribution beat =
        new Contribution("hand on the beat", middles.standardError(), afterBeat.length - 1.0);
    Contribution bias =
        new Contribution("bias on the beat", BEAT_BIAS_SECONDS, Double.POSITIVE_INFINITY);
    Estimate dead = Estimate.of(middles.mean(), UncertaintyBudget.of(beat, bias, spread, shape));
    // lag and dead time are found from the same edges: what one loses the other gains
    Estimate total = Estimate.of(middles.mean() + lag, UncertaintyBudget.of(beat, bias, hand));
    return new StepResponse(filter, filterLag, Optional.of(dead), total.atLeastZero(), kept.size());
  }

  private static double[] grid(double from, double to, int count) {
    double[] grid = new double[count];
    for (int i = 0; i < count; i++) {
      grid[i] = from * Math.pow(to / from, i / (count - 1.0));
    }
    return grid;
  }

  /** One change, cut to where it happens. */
  private static final class Changed {
    private static final double LEAD_SECONDS = 0.3;
    private static final double TAIL_SECONDS = 0.3;
    private static final double OVER = 0.01;
    private static final int SCAN = 13;
    private static final int NARROWINGS = 12;
    private static final double GOLDEN = (Math.sqrt(5) - 1) / 2;

    private final StepTrace trace;
    private final double[] seconds;
    private final double[] shares;
    private final double half;
    private final double period;

    private Changed(StepTrace trace, double[] seconds, double[] shares, double half) {
      this.trace = trace;
      this.seconds = seconds;
      this.shares = shares;
      this.half = half;
      this.period = (seconds[seconds.length - 1] - seconds[0]) / (seconds.length - 1);
    }

    static Optional<Changed> find(StepTrace trace) {
      Series readings = trace.readings();
      int crossed = -1;
      int last = -1;
      for (int i = 0; i < readings.size(); i++) {
        double share = trace.share(readings.grams(i));
        if (crossed < 0 && share >= 0.5) {
          crossed = i;
        }
        if (share < 1 - OVER) {
          last = i;
        }
      }
      if (crossed < 1) {
        return Optional.empty();
      }
      int first = crossed;
      while (first > 0 && trace.share(readings.grams(first - 1)) > OVER) {
        first--;
      }
      double from = readings.seconds(first) - LEAD_SECONDS;
      double to = readings.seconds(Math.max(last, crossed)) + TAIL_SECONDS;
      Series cut = readings.between(from, to);
      if (cut.size() < 3 || cut.span() == 0) {
        return Optional.empty();
      }
      double[] shares = new double[cut.size()];
      for (int i = 0; i < shares.length; i++) {
        shares[i] = trace.share(cut.grams(i));
      }
      double half = between(trace, readings, crossed);
      return Optional.of(new Changed(trace, cut.toSeconds(), shares, half));
    }

    /** When the display passed the half, between two readings. */
    private static double between(StepTrace trace, Series readings, int crossed) {
      double below = trace.share(readings.grams(crossed - 1));
      double above = trace.share(readings.grams(crossed));
      double part = (0.5 - below) / (above - below);
      return readings.seconds(crossed - 1)
          + part * (readings.seconds(crossed) - readings.seconds(crossed - 1));
    }

    /** Mean squared misfit where the display was moving, at the middle that fits best. */
    double cost(Filter filter, double lag, double hand) {
      return misfit(bestMiddle(filter, lag, hand), filter, lag, hand);
    }

    double bestMiddle(Filter filter, double lag, double hand) {
      double guess = half - filter.median(lag);
      double reach = 0.5 * lag + 1.2 * period;
      double best = guess;
      double least = Double.POSITIVE_INFINITY;
      for (int i = 0; i < SCAN; i++) {
        double middle = guess + reach * (2.0 * i / (SCAN - 1) - 1);
        double cost = misfit(middle, filter, lag, hand);
        if (cost < least) {
          least = cost;
          best = middle;
        }
      }
      double low = best - 2 * reach / (SCAN - 1);
      double high = best + 2 * reach / (SCAN - 1);
      double left = high - GOLDEN * (high - low);
      double right = low + GOLDEN * (high - low);
      double atLeft = misfit(left, filter, lag, hand);
      double atRight = misfit(right, filter, lag, hand);
      for (int i = 0; i < NARROWINGS; i++) {
        if (atLeft < atRight) {
          high = right;
          right = left;
          atRight = atLeft;
          left = high - GOLDEN * (high - low);
          atLeft = misfit(left, filter, lag, hand);
        } else {
          low = left;
          left = right;
          atLeft = atRight;
          right = low + GOLDEN * (high - low);
          atRight = misfit(right, filter, lag, hand);
        }
      }
      return (low + high) / 2;
    }

    private double misfit(double middle, Filter filter, double lag, double hand) {
      double sum = 0;
      for (int i = 0; i < seconds.length; i++) {
        double off = shares[i] - filter.answer(seconds[i] - middle, lag, hand);
        sum += off * off;
      }
      return sum;
    }
  }

  /** Misfit of every change at every lag of a grid. */
  private static final class Table {
    private final double[] lags;
    private final double[][] costs;

    private Table(double[] lags, double[][] costs) {
      this.lags = lags;
      this.costs = costs;
    }

    double[] lags() {
      return lags.clone();
    }

    static Table of(List<Changed> changes, Filter filter, double[] lags, double hand) {
      double[][] costs = new double[changes.size()][lags.length];
      for (int j = 0; j < changes.size(); j++) {
        for (int g = 0; g < lags.length; g++) {
          costs[j][g] = changes.get(j).cost(filter, lags[g], hand);
        }
      }
      return new Table(lags, costs);
    }

    /** First over the whole grid, then finely where it was best. */
    static Table around(List<Changed> changes, Filter filter, double[] coarse, double hand) {
      double best = of(changes, filter, coarse, hand).lag();
      return of(changes, filter, grid(best / FINE_FACTOR, best * FINE_FACTOR, FINE), hand);
    }

    /** The least misfit of one change by itself. */
    double own(int change) {
      double least = Double.POSITIVE_INFINITY;
      for (double cost : costs[change]) {
        least = Math.min(least, cost);
      }
      return least;
    }

    double least() {
      double least = Double.POSITIVE_INFINITY;
      for (double sum : sums(-1)) {
        least = Math.min(least, sum);
      }
      return least;
    }

    double lag() {
      return bottom(sums(-1));
    }

    /** Standard error of the lag from leaving out one change after the other. */
    double jackknife() {
      int count = costs.length;
      double[] without = new double[count];
      for (int j = 0; j < count; j++) {
        without[j] = bottom(sums(j));
      }
      return (count - 1) / Math.sqrt(count) * Sample.of(without).standardDeviation();
    }

    private double[] sums(int without) {
      double[] sums = new double[lags.length];
      for (int j = 0; j < costs.length; j++) {
        for (int g = 0; g < lags.length && j != without; g++) {
          sums[g] += costs[j][g];
        }
      }
      return sums;
    }

    /** Where a parabola through the least and its neighbours is lowest. */
    private double bottom(double[] sums) {
      int at = 0;
      for (int g = 1; g < sums.length; g++) {
        at = sums[g] < sums[at] ? g : at;
      }
      if (at == 0 || at == sums.length - 1) {
        return lags[at];
      }
      double left = sums[at - 1] - sums[at];
      double right = sums[at + 1] - sums[at];
      double shift = left + right == 0 ? 0 : 0.5 * (left - right) / (left + right);
      double ratio = lags[at + 1] / lags[at];
      return lags[at] * Math.pow(ratio, shift);
    }
  }
}
