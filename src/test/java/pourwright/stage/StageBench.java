package pourwright.stage;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import pourwright.units.Mass;

/** Prints how long the solver takes to prove the best timetable for ordinary sizes. */
public final class StageBench {
  private static final int[] BREWERS = {2, 3, 4, 6, 8};
  private static final Kettle ENOUGH = new Kettle(Mass.ofGrams(4_000), Mass.ofGrams(80), 10, 60);

  private StageBench() {}

  /**
   * Runs the bench.
   *
   * @param args the most seconds for each routine; 60 when left out
   */
  public static void main(String[] args) {
    Duration patience = Duration.ofSeconds(args.length > 0 ? Integer.parseInt(args[0]) : 60);
    for (int brewers : BREWERS) {
      int limit = brewers <= 4 ? 600 : 900;
      Routine three = Routine.of(Routines.threePours(brewers), limit);
      run("three pours", three.withKettle(ENOUGH), patience);
      run("three pours, 900 g kettle", three, patience);
      Routine five = Routine.of(Routines.drainedBrewers(brewers, 35), limit);
      run("five pours", five.withKettle(ENOUGH), patience);
      run("five pours, 900 g kettle", five, patience);
      run(
          "three and five pours mixed",
          Routine.of(mixed(brewers), limit).withKettle(ENOUGH),
          patience);
    }
  }

  private static List<Station> mixed(int count) {
    List<Station> stations = new ArrayList<>(Routines.threePours(count));
    List<Station> others = Routines.drainedBrewers(count, 35);
    for (int i = 1; i < count; i += 2) {
      stations.set(i, others.get(i));
    }
    return stations;
  }

  private static void run(String what, Routine routine, Duration patience) {
    long began = System.nanoTime();
    Outcome outcome = StageSolver.solve(routine, Patience.of(patience, System::nanoTime));
    double seconds = (System.nanoTime() - began) / 1e9;
    String result;
    if (outcome instanceof Outcome.Planned planned) {
      Timetable table = planned.timetable();
      result =
          String.format(
              Locale.ROOT,
              "late %d, apart %d, end %s, %s",
              table.lateSeconds(),
              table.apartSeconds(),
              Clock.words(table.endSeconds()),
              planned.gap().map(gap -> "not proven: " + gap).orElse("proven best"));
    } else if (outcome instanceof Outcome.Impossible impossible) {
      result =
          (impossible.isMinimal() ? "impossible: " : "impossible (maybe fewer): ")
              + impossible.clash().stream().map(Rule::words).collect(Collectors.joining(" + "));
    } else {
      result = "undecided";
    }
    System.out.printf(
        Locale.ROOT,
        "%d brewers, %s: %.2f s, %s%n",
        routine.stations().size(),
        what,
        seconds,
        result);
  }
}
