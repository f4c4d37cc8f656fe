package pourwright.statistic;

import java.util.Comparator;
import java.util.stream.IntStream;

/**
 * Keeps many questions asked at once from finding something by chance.
 *
 * <p>Source: Holm 1979, Scandinavian Journal of Statistics 6:65.
 */
public final class Holm {

  private Holm() {}

  /**
   * Adjusted p values, in the order of the given ones.
   *
   * @param p each from 0 to 1
   */
  public static double[] adjusted(double... p) {
    int[] order =
        IntStream.range(0, p.length)
            .boxed()
            .sorted(Comparator.comparingDouble(i -> p[i]))
            .mapToInt(Integer::intValue)
            .toArray();
    double[] adjusted = new double[p.length];
    double sofar = 0;
    for (int rank = 0; rank < order.length; rank++) {
      sofar = Math.max(sofar, Math.min(1, (p.length - rank) * p[order[rank]]));
      adjusted[order[rank]] = sofar;
    }
    return adjusted;
  }
}
