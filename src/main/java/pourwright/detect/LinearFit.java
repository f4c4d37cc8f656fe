package pourwright.detect;

import java.util.Arrays;

/** Least squares over a few functions by their normal equations; may be used again. */
final class LinearFit {
  /** Keeps what cannot be told apart from running away; far below what a reading weighs. */
  private static final double RIDGE = 1e-9;

  private final int size;
  private final double[][] sums;
  private final double[][] reduced;
  private final double[] found;
  private double squares;

  /**
   * @param size number of functions
   */
  LinearFit(int size) {
    this.size = size;
    this.sums = new double[size][size + 1];
    this.reduced = new double[size][size + 1];
    this.found = new double[size];
  }

  void clear() {
    for (double[] row : sums) {
      Arrays.fill(row, 0);
    }
    squares = 0;
  }

  /** Takes a value {@code y} and those of the functions there. */
  void add(double[] functions, double y) {
    for (int r = 0; r < size; r++) {
      for (int c = 0; c < size; c++) {
        sums[r][c] += functions[r] * functions[c];
      }
      sums[r][size] += functions[r] * y;
    }
    squares += y * y;
  }

  /**
   * Solves for the coefficients.
   *
   * @return sum of the squares that they leave
   */
  double solve() {
    for (int r = 0; r < size; r++) {
      System.arraycopy(sums[r], 0, reduced[r], 0, size + 1);
      reduced[r][r] += RIDGE;
    }
    for (int p = 0; p < size; p++) {
      for (int r = p + 1; r < size; r++) {
        double factor = reduced[r][p] / reduced[p][p];
        for (int c = p; c <= size; c++) {
          reduced[r][c] -= factor * reduced[p][c];
        }
      }
    }
    double left = squares;
    for (int r = size - 1; r >= 0; r--) {
      double sum = reduced[r][size];
      for (int c = r + 1; c < size; c++) {
        sum -= reduced[r][c] * found[c];
      }
      found[r] = sum / reduced[r][r];
      left -= found[r] * sums[r][size];
    }
    return left;
  }

  /** Coefficient of a function in the solution found last. */
  double coefficient(int function) {
    return found[function];
  }
}
