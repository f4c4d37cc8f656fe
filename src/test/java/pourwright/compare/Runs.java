package pourwright.compare;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import pourwright.plan.Plan;
import pourwright.plan.PlannedPour;
import pourwright.plan.Schedule;
import pourwright.plan.Start;
import pourwright.plan.Tolerance;
import pourwright.rig.Rig;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/** Plans and runs in few words. */
final class Runs {
  private Runs() {}

  /** A made pour: start (s), water (g), flow (g/s). */
  static MadePour pour(int index, double start, double grams, double flow) {
    return new MadePour(
        index,
        at(start),
        at(start + grams / flow),
        Mass.ofGrams(grams),
        Flow.ofGramsPerSecond(flow));
  }

  static Routine routine(Plan plan, MadePour... made) {
    return new Routine(Schedule.of(plan), List.of(made), Map.of());
  }

  /** Pours at 6 g/s. */
  static PlannedPour planned(int index, double grams, Start start) {
    return new PlannedPour(index, Mass.ofGrams(grams), Flow.ofGramsPerSecond(6), start);
  }

  static Start clock(double seconds) {
    return new Start.AtClock(at(seconds));
  }

  static Start gap(double seconds) {
    return new Start.AfterEnd(Duration.ofNanos(Math.round(seconds * 1e9)));
  }

  static Start drained(double seconds) {
    return new Start.WhenDrained(at(seconds));
  }

  static Plan plan(PlannedPour... pours) {
    return plan(List.of(pours));
  }

  static Plan plan(List<PlannedPour> pours) {
    return new Plan(
        "test",
        Mass.ofGrams(15),
        pours.stream().map(PlannedPour::add).reduce(Mass.ZERO, Mass::plus),
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        Rig.WHOLE,
        Optional.empty(),
        Optional.empty(),
        Tolerance.COMMON,
        pours,
        List.of());
  }

  static SessionTime at(double seconds) {
    return SessionTime.ofSeconds(seconds);
  }

  /** Each link in one word: {@code 1=1}, {@code 2=}, {@code =3}, {@code 2=2+3}, {@code 2+3=2}. */
  static String words(Alignment alignment) {
    List<String> words = new ArrayList<>();
    for (Alignment.Link link : alignment.links()) {
      words.add(
          numbers(link.firstPlanned(), link.lastPlanned())
              + "="
              + numbers(link.firstMade(), link.lastMade()));
    }
    return String.join(" ", words);
  }

  private static String numbers(int first, int last) {
    List<String> numbers = new ArrayList<>();
    for (int i = first; i <= last; i++) {
      numbers.add(Integer.toString(i));
    }
    return String.join("+", numbers);
  }
}
