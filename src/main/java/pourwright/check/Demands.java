package pourwright.check;

import java.util.List;
import java.util.TreeSet;
import pourwright.plan.Plan;
import pourwright.plan.PlannedPour;
import pourwright.plan.Schedule;
import pourwright.plan.Tolerance;

/**
 * What a plan asks of a scale.
 *
 * @param title of the plan
 * @param toleranceGrams by how much a pour may be off, both ways (g)
 * @param flows different flows of the plan, slowest first (g/s)
 * @param greatestPourGrams of one pour (g)
 * @param waterGrams of all pours (g)
 * @param minutes from the first water to the last
 */
public record Demands(
    String title,
    double toleranceGrams,
    List<Double> flows,
    double greatestPourGrams,
    double waterGrams,
    double minutes) {

  /** What pours are usually like; common practice, no source. */
  public static final Demands COMMON =
      new Demands(
          "usual pours", Tolerance.COMMON.mass().grams(), List.of(4.0, 6.0, 8.0), 80, 260, 3);

  public Demands {
    flows = List.copyOf(flows);
  }

  public static Demands of(Plan plan) {
    TreeSet<Double> flows = new TreeSet<>();
    double greatest = 0;
    for (PlannedPour pour : plan.pours()) {
      flows.add(pour.flow().gramsPerSecond());
      greatest = Math.max(greatest, pour.add().grams());
    }
    return new Demands(
        plan.title(),
        plan.tolerance().mass().grams(),
        List.copyOf(flows),
        greatest,
        plan.water().grams(),
        Schedule.of(plan).end().seconds() / 60);
  }

  double fastestFlow() {
    return flows.get(flows.size() - 1);
  }
}
