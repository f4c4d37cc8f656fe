package pourwright.recipe;

import java.util.List;
import java.util.OptionalDouble;
import pourwright.plan.Plan;
import pourwright.plan.PlannedPour;
import pourwright.plan.Start;

/**
 * What the trade looks at in a plan. Common practice, no source: the first two pours are the
 * opening, the rest are closing pours.
 *
 * @param ratio parts of water to one part of coffee
 * @param firstOfOpening part of the opening that the first pour gives, above 0, at most 1
 * @param closingPours pours after the opening
 * @param waitsForBed whether the later pours wait until the bed has drained
 * @param kettleCelsius water in the kettle (°C)
 */
public record Scheme(
    double ratio,
    double firstOfOpening,
    int closingPours,
    boolean waitsForBed,
    OptionalDouble kettleCelsius) {

  private static final int OPENING_POURS = 2;

  /** A plan waits for the bed when more than half of its later pours do. */
  public static Scheme of(Plan plan) {
    List<PlannedPour> pours = plan.pours();
    int opening = Math.min(OPENING_POURS, pours.size());
    double openingGrams =
        pours.subList(0, opening).stream().mapToDouble(pour -> pour.add().grams()).sum();
    long waiting = pours.stream().filter(pour -> pour.start() instanceof Start.WhenDrained).count();
    return new Scheme(
        plan.water().grams() / plan.dose().grams(),
        pours.get(0).add().grams() / openingGrams,
        pours.size() - opening,
        2 * waiting > pours.size() - 1,
        plan.waterTemperatureCelsius());
  }
}
