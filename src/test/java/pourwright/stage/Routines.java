package pourwright.stage;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import pourwright.plan.Plan;
import pourwright.plan.PlannedPour;
import pourwright.plan.Start;
import pourwright.plan.TalkMark;
import pourwright.plan.Tolerance;
import pourwright.rig.Rig;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/** Invented brewers for tests of the stage. */
final class Routines {
  private Routines() {}

  /** A plan of pours of 6 g/s; each length in seconds. */
  static Plan plan(int toleranceSeconds, List<Start> starts, int... lengths) {
    List<PlannedPour> pours = new ArrayList<>();
    Mass water = Mass.ZERO;
    for (int i = 0; i < lengths.length; i++) {
      Mass add = Mass.ofGrams(6.0 * lengths[i]);
      water = water.plus(add);
      pours.add(new PlannedPour(i + 1, add, Flow.ofGramsPerSecond(6), starts.get(i)));
    }
    return new Plan(
        "trial",
        Mass.ofGrams(16),
        water,
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        Rig.WHOLE,
        Optional.empty(),
        Optional.empty(),
        new Tolerance(
            Mass.ofGrams(2), Duration.ofSeconds(toleranceSeconds), Flow.ofGramsPerSecond(1)),
        pours,
        List.<TalkMark>of());
  }

  static Start at(int seconds) {
    return new Start.AtClock(SessionTime.ofSeconds(seconds));
  }

  static Start drained(int seconds) {
    return new Start.WhenDrained(SessionTime.ofSeconds(seconds));
  }

  static Start after(int seconds) {
    return new Start.AfterEnd(Duration.ofSeconds(seconds));
  }

  static Station station(String name, Plan plan, int drainSeconds) {
    return new Station(name, plan, Collections.nCopies(plan.pours().size(), drainSeconds));
  }

  /** Three pours of seven and ten seconds, each when the bed of the one before has drained. */
  static List<Station> threePours(int count) {
    List<Station> stations = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      Plan plan = plan(2, List.of(at(0), drained(45), drained(90)), 7, 10, 10);
      stations.add(station("brewer " + (i + 1), plan, 35));
    }
    return stations;
  }

  /** Five pours of ten seconds, each when the bed of the one before has drained. */
  static List<Station> drainedBrewers(int count, int drainSeconds) {
    List<Station> stations = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      Plan plan =
          plan(
              2,
              List.of(at(0), drained(45), drained(90), drained(135), drained(180)),
              7,
              10,
              10,
              10,
              10);
      stations.add(station("brewer " + (i + 1), plan, drainSeconds));
    }
    return stations;
  }
}
