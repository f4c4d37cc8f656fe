package pourwright.detect;

/**
 * Looks for the bend, upward or downward, that explains a course best, and weighs it against a
 * course that goes on straight: the generalised likelihood ratio test (Basseville and Nikiforov
 * 1993, section 7.2) over the moment and the size of the bend. The slope after it is another at
 * once, or becomes another ever more.
 *
 * <p>A course scatters by what it does besides, too, and so at least as much as it does about the
 * course found. The answers stay until the next asking.
 */
final class BendTest {
  /** Blocks on either side of a bend. */
  private static final int LEAST_BLOCKS = 2;

  /** Level, slope, moment and size are fitted. */
  private static final int FITTED = 4;

  private final LeastSquares straight = new LeastSquares();
  private double at;
  private double before;
  private double change;
  private double score;

  private double meanX;
  private double meanY;
  private double spread;
  private double slope;
  private double bestGain;

  /**
   * Looks for it in the blocks since {@code from} (s).
   *
   * @param noise standard deviation of a block (g)
   * @return whether there is any bend that way
   */
  boolean seek(Blocks blocks, double from, boolean isUpward, double noise) {
    int n = blocks.countSince(from);
    score = 0;
    if (n < FITTED + 2) {
      return false;
    }
    double rest = fitStraight(blocks, n);
    bestGain = 0;
    for (int newer = LEAST_BLOCKS; newer <= n - LEAST_BLOCKS; newer++) {
      double knot = (blocks.time(newer) + blocks.time(newer - 1)) / 2;
      weigh(blocks, n, newer, knot, false, isUpward);
      weigh(blocks, n, newer, knot, true, isUpward);
    }
    double variance = Math.max(noise * noise, (rest - bestGain) / Math.max(1, n - FITTED));
    score = bestGain / (2 * variance);
    return bestGain > 0;
  }

  /** The straight line through the newest {@code n} blocks; gives the squares about it (g²). */
  private double fitStraight(Blocks blocks, int n) {
    double originX = blocks.time(0);
    double originY = blocks.mass(0);
    straight.clear();
    for (int i = 0; i < n; i++) {
      straight.add(blocks.time(i) - originX, blocks.mass(i) - originY);
    }
    meanX = originX + straight.sumX() / n;
    meanY = originY + straight.sumY() / n;
    spread = straight.spreadX();
    slope = straight.slope();
    return straight.residual();
  }

  /** Whether a bend at {@code knot}, of which {@code newer} blocks tell, explains more yet. */
  private void weigh(
      Blocks blocks, int n, int newer, double knot, boolean isGradual, boolean isUpward) {
    double sum = 0;
    double withX = 0;
    double squares = 0;
    double withY = 0;
    for (int i = 0; i < newer; i++) {
      double since = blocks.time(i) - knot;
      double bent = isGradual ? since * since : since;
      sum += bent;
      withX += bent * (blocks.time(i) - meanX);
      squares += bent * bent;
      withY += bent * (blocks.mass(i) - meanY);
    }
    double own = squares - sum * sum / n - withX * withX / spread;
    double product = withY - slope * withX;
    double gain = own > 1e-9 * squares && isUpward == product > 0 ? product * product / own : 0;
    if (gain > bestGain) {
      double size = product / own;
      bestGain = gain;
      at = knot;
      before = slope - size * withX / spread;
      change = isGradual ? size * (blocks.time(0) - knot) : size;
    }
  }

  /** When it bends (s). */
  double at() {
    return at;
  }

  /** Slope before the bend (g/s). */
  double before() {
    return before;
  }

  /** By how much the mean slope since the bend is greater than that (g/s). */
  double change() {
    return change;
  }

  /** Log-likelihood ratio of the bend. */
  double score() {
    return score;
  }
}
