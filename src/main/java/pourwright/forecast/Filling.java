package pourwright.forecast;

import java.util.List;
import pourwright.kettle.Deed;
import pourwright.units.Mass;

/**
 * How the kettle is filled and used.
 *
 * @param fill water in it when the first pour starts
 * @param rinse water that rinses and warms the dripper before that, not out of {@code fill}
 * @param stays water that the spout does not give
 * @param isOnBase whether it stands on its heated base between pours
 * @param refills while the brew runs
 */
public record Filling(
    Mass fill, Mass rinse, Mass stays, boolean isOnBase, List<Deed.Refill> refills) {
  /** Own choice. */
  public static final Filling USUAL =
      new Filling(Mass.ofGrams(600), Mass.ofGrams(100), Mass.ofGrams(60), false, List.of());

  public Filling {
    if (fill.isNegative() || rinse.isNegative() || stays.isNegative()) {
      throw new IllegalArgumentException("a kettle is filled with water, not with less than none");
    }
    refills = List.copyOf(refills);
  }
}
