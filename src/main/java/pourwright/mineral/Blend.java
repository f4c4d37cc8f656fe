package pourwright.mineral;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import pourwright.units.Mass;

/**
 * Waters and concentrates weighed together. A litre is taken as a kilogram, for brewing water good
 * to a few parts in a thousand.
 *
 * @param parts what to weigh of each, in the order given, nothing left out
 */
public record Blend(Map<Water, Mass> parts) {

  /**
   * A water or concentrate at hand.
   *
   * @param name as on the bottle
   */
  public record Water(String name, Minerals minerals) {}

  private static final double TINY = 1e-9;

  public Blend {
    parts = new LinkedHashMap<>(parts);
  }

  @Override
  public Map<Water, Mass> parts() {
    return new LinkedHashMap<>(parts);
  }

  /** All of it together. */
  public Mass total() {
    return parts.values().stream().reduce(Mass.ZERO, Mass::plus);
  }

  /** What the mixture carries. */
  public Minerals minerals() {
    double total = total().grams();
    double hardness = 0;
    double alkalinity = 0;
    for (Map.Entry<Water, Mass> part : parts.entrySet()) {
      hardness += part.getValue().grams() * part.getKey().minerals().hardnessMgPerLitre();
      alkalinity += part.getValue().grams() * part.getKey().minerals().alkalinityMgPerLitre();
    }
    return total == 0 ? Minerals.NONE : new Minerals(hardness / total, alkalinity / total);
  }

  /**
   * The amounts that give {@code batch} of water with {@code target}, using as much of the waters
   * named first as can be.
   *
   * <p>Three balances (mass, hardness, alkalinity) are met exactly by at most three waters, so
   * every choice of up to three is tried; that is also a proof where none exists.
   *
   * @param waters at hand, the preferred one first
   * @return empty when no mixture of them meets the target
   */
  public static Optional<Blend> forTarget(List<Water> waters, Minerals target, Mass batch) {
    List<double[]> feasible = new ArrayList<>();
    int n = waters.size();
    for (int i = 0; i < n; i++) {
      for (int j = i; j < n; j++) {
        for (int k = j; k < n; k++) {
          if (i == j && j != k) {
            continue; // the pair (i, k) is tried as i < j = k
          }
          solve(waters, target, i, j, k).ifPresent(feasible::add);
        }
      }
    }
    Comparator<double[]> preferFirst =
        (a, b) -> {
          for (int i = 0; i < n; i++) {
            if (Math.abs(a[i] - b[i]) > TINY) {
              return Double.compare(a[i], b[i]);
            }
          }
          return 0;
        };
    return feasible.stream()
        .max(preferFirst)
        .map(
            shares -> {
              Map<Water, Mass> parts = new LinkedHashMap<>();
              for (int i = 0; i < n; i++) {
                // two bottles of the same water are one
                parts.merge(waters.get(i), Mass.ofGrams(shares[i] * batch.grams()), Mass::plus);
              }
              return new Blend(parts);
            });
  }

  /** Why {@link #forTarget} finds nothing, and what to add; one sentence without its full stop. */
  public static String whyNone(List<Water> waters, Minerals target) {
    String none = "no mixture of these waters has " + target.words() + "; ";
    List<Minerals> all = waters.stream().map(Water::minerals).toList();
    if (all.stream().allMatch(one -> one.hardnessMgPerLitre() > target.hardnessMgPerLitre())) {
      return none + "all are harder: add a softer one, such as distilled water";
    }
    if (all.stream().allMatch(one -> one.hardnessMgPerLitre() < target.hardnessMgPerLitre())) {
      return none + "none is as hard: add a concentrate of a salt that makes hardness";
    }
    if (all.stream().allMatch(one -> one.alkalinityMgPerLitre() > target.alkalinityMgPerLitre())) {
      return none + "all are more alkaline: add a softer one, such as distilled water";
    }
    if (all.stream().allMatch(one -> one.alkalinityMgPerLitre() < target.alkalinityMgPerLitre())) {
      return none + "none is as alkaline: add a concentrate of a bicarbonate";
    }
    return none + "add a concentrate that is stronger, or a softer water";
  }

  /** Shares of waters i ≤ j ≤ k that meet the target, least squares checked to be exact. */
  private static Optional<double[]> solve(
      List<Water> waters, Minerals target, int i, int j, int k) {
    int[] used = i == j ? new int[] {i} : j == k ? new int[] {i, j} : new int[] {i, j, k};
    // scale the balances so that all rows weigh alike
    double scale =
        1
            + waters.stream()
                .mapToDouble(
                    w -> w.minerals().hardnessMgPerLitre() + w.minerals().alkalinityMgPerLitre())
                .max()
                .orElse(0);
    double[][] rows = new double[3][used.length + 1];
    for (int c = 0; c < used.length; c++) {
      Minerals minerals = waters.get(used[c]).minerals();
      rows[0][c] = 1;
      rows[1][c] = minerals.hardnessMgPerLitre() / scale;
      rows[2][c] = minerals.alkalinityMgPerLitre() / scale;
    }
    rows[0][used.length] = 1;
    rows[1][used.length] = target.hardnessMgPerLitre() / scale;
    rows[2][used.length] = target.alkalinityMgPerLitre() / scale;
    for (int c = 0; c < used.length; c++) {
      int pivot = c;
      for (int r = c + 1; r < 3; r++) {
        if (Math.abs(rows[r][c]) > Math.abs(rows[pivot][c])) {
          pivot = r;
        }
      }
      if (Math.abs(rows[pivot][c]) < TINY) {
        return Optional.empty();
      }
      double[] swap = rows[c];
      rows[c] = rows[pivot];
      rows[pivot] = swap;
      for (int r = 0; r < 3; r++) {
        if (r != c) {
          double factor = rows[r][c] / rows[c][c];
          for (int d = c; d <= used.length; d++) {
            rows[r][d] -= factor * rows[c][d];
          }
        }
      }
    }
    for (int r = used.length; r < 3; r++) {
      if (Math.abs(rows[r][used.length]) > TINY) {
        return Optional.empty();
      }
    }
    double[] shares = new double[waters.size()];
    for (int c = 0; c < used.length; c++) {
      double share = rows[c][used.length] / rows[c][c];
      if (share < -TINY) {
        return Optional.empty();
      }
      shares[used[c]] = Math.max(0, share);
    }
    return Optional.of(shares);
  }
}
