package pourwright.roving;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import pourwright.plan.Plan;
import pourwright.plan.PlanReader;
import pourwright.plan.PlanReading;
import pourwright.reading.Reading;
import pourwright.simulate.Moments;
import pourwright.simulate.RovingSimulation;
import pourwright.simulate.RovingSimulation.Served;
import pourwright.simulate.RovingSimulation.Visit;
import pourwright.simulate.Scenario;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/** Invented routines of several rigs with one scale. */
final class Stage {
  static final Plan PLAN =
      ((PlanReading.Understood)
              PlanReader.read(
                  """
                  format: 1
                  dose_g: 15
                  water_g: 180
                  pours:
                    - {add_g: 45, flow_g_per_s: 5.0, start: {at_s: 0}}
                    - {add_g: 60, flow_g_per_s: 6.0, start: {at_s: 66}}
                    - {add_g: 75, flow_g_per_s: 6.0, start: {at_s: 132}}
                  """,
                  "three-pours.yaml"))
          .plan();

  /** From the start of one brewer's pour to that of the next brewer's (s). */
  private static final double STAGGER = 22;

  /** From the start of one pour to that of the next of the same brewer (s). */
  private static final double PERIOD = 66;

  private Stage() {}

  private record Due(int rig, int pour, double at) {}

  /** What the scale is heard to say of a whole routine. */
  static RovingSimulation simulation(int rigs, String scenario, long seed) {
    List<Served> served = new ArrayList<>();
    for (int rig = 0; rig < rigs; rig++) {
      double first = STAGGER * rig;
      served.add(
          new Served(
              PLAN, new Moments(List.of(first, first + PERIOD, first + 2 * PERIOD), first + 190)));
    }
    List<Visit> visits = dues(rigs).stream().map(due -> new Visit(due.rig(), 1)).toList();
    return new RovingSimulation(served, visits, Scenario.findByName(scenario).orElseThrow(), seed);
  }

  /** One pour a turn. */
  static List<Turn> turns(int rigs) {
    List<Turn> turns = new ArrayList<>();
    for (Due due : dues(rigs)) {
      Mass water = PLAN.pours().get(due.pour()).add();
      turns.add(new Turn(due.rig() + 1, 1, water, water));
    }
    return turns;
  }

  private static List<Due> dues(int rigs) {
    List<Due> dues = new ArrayList<>();
    for (int rig = 0; rig < rigs; rig++) {
      for (int pour = 0; pour < PLAN.pours().size(); pour++) {
        dues.add(new Due(rig, pour, STAGGER * rig + PERIOD * pour));
      }
    }
    dues.sort(Comparator.comparingDouble(Due::at));
    return dues;
  }

  static List<Reading> heard(RovingSimulation simulation) {
    List<Reading> readings = new ArrayList<>();
    while (simulation.advance()) {
      readings.add(
          new Reading(
              SessionTime.ofNanos(simulation.nanos()),
              Mass.ofNanograms(simulation.nanograms()),
              simulation.stability()));
    }
    return readings;
  }
}
