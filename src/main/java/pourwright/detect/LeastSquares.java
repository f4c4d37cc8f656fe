package pourwright.detect;

/** Sums for a straight line through points, gathered one by one; may be used again. */
final class LeastSquares {
  private int count;
  private double sumX;
  private double sumXx;
  private double sumY;
  private double sumXy;
  private double sumYy;

  LeastSquares clear() {
    count = 0;
    sumX = 0;
    sumXx = 0;
    sumY = 0;
    sumXy = 0;
    sumYy = 0;
    return this;
  }

  void add(double x, double y) {
    count++;
    sumX += x;
    sumXx += x * x;
    sumY += y;
    sumXy += x * y;
    sumYy += y * y;
  }

  int count() {
    return count;
  }

  double sumX() {
    return sumX;
  }

  double sumXx() {
    return sumXx;
  }

  double sumY() {
    return sumY;
  }

  double sumXy() {
    return sumXy;
  }

  /** Sum of squares of x about its mean. */
  double spreadX() {
    return sumXx - sumX * sumX / count;
  }

  /** Sum of products of x and y about their means. */
  double covariance() {
    return sumXy - sumX * sumY / count;
  }

  /** Slope of the line; 0 where all x are the same. */
  double slope() {
    double spread = spreadX();
    return spread > 0 ? covariance() / spread : 0;
  }

  /** The line at x = 0. */
  double intercept() {
    return (sumY - slope() * sumX) / count;
  }

  /** Sum of squares of y about the line. */
  double residual() {
    return Math.max(0, sumYy - sumY * sumY / count - slope() * covariance());
  }
}
