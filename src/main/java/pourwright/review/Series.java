package pourwright.review;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.IntStream;
import pourwright.statistic.Interval;
import pourwright.statistic.MannKendall;
import pourwright.statistic.Sample;
import pourwright.statistic.Trend;

/**
 * One figure of run after run, in the order they were made. What takes more runs than there are is
 * empty.
 */
public record Series(List<Point> points) {
  /** Of every interval of a review. */
  public static final double CONFIDENCE = 0.95;

  /** Below so many runs a trend is a hint at most; the order test is rough there. */
  public static final int RUNS_FOR_TREND = 10;

  /** A trend is looked for in so many last runs at most: who asks it of years asks too late. */
  public static final int LAST_RUNS_OF_TREND = 200;

  /** Below so many values a robust limit says nothing. */
  private static final int RUNS_FOR_OUTLIERS = 5;

  public Series {
    points = List.copyOf(points);
  }

  /** The figure of one run. */
  public record Point(long run, double value) {}

  /**
   * Which way it goes.
   *
   * @param line robust; its slope is per run
   * @param order whether it goes anywhere at all
   */
  public record Direction(Trend line, MannKendall order) {

    /** Whether both, the robust slope and the order, leave out chance. */
    public boolean isClear() {
      return line.isClear() && order.p() < 1 - CONFIDENCE;
    }
  }

  public int size() {
    return points.size();
  }

  public boolean isEmpty() {
    return points.isEmpty();
  }

  /** The figures alone. */
  public double[] toArray() {
    return points.stream().mapToDouble(Point::value).toArray();
  }

  private Optional<Sample> sample(int atLeast) {
    return points.size() < atLeast ? Optional.empty() : Optional.of(Sample.of(toArray()));
  }

  /** The mean: of errors, the bias. */
  public OptionalDouble mean() {
    return sample(1).map(sample -> OptionalDouble.of(sample.mean())).orElse(OptionalDouble.empty());
  }

  public Optional<Interval> meanInterval() {
    return sample(2).map(sample -> sample.meanInterval(CONFIDENCE));
  }

  /** The standard deviation from run to run. */
  public OptionalDouble spread() {
    return sample(2)
        .map(sample -> OptionalDouble.of(sample.standardDeviation()))
        .orElse(OptionalDouble.empty());
  }

  public Optional<Interval> spreadInterval() {
    return sample(2).map(sample -> sample.standardDeviationInterval(CONFIDENCE));
  }

  /** Over the count of runs, not over days: practice is what is thought to change it. */
  public Optional<Direction> direction() {
    if (points.size() < 3) {
      return Optional.empty();
    }
    int first = Math.max(0, points.size() - LAST_RUNS_OF_TREND);
    double[] order = IntStream.range(first, points.size()).asDoubleStream().toArray();
    double[] values = Arrays.copyOfRange(toArray(), first, points.size());
    if (Arrays.stream(values).distinct().count() < 2) {
      return Optional.empty();
    }
    return Optional.of(new Direction(Trend.of(order, values, CONFIDENCE), MannKendall.of(values)));
  }

  /** Runs that do not belong to the rest by a robust rule; see {@link Sample#outliers}. */
  public List<Long> outliers() {
    return sample(RUNS_FOR_OUTLIERS)
        .map(sample -> Arrays.stream(sample.outliers()).mapToObj(i -> points.get(i).run()).toList())
        .orElse(List.of());
  }
}
