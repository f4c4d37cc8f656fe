package pourwright.simulate;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.EnumSet;
import pourwright.plan.Plans;
import pourwright.recording.AppendFile;
import pourwright.recording.TraceWriter;
import pourwright.rig.Rig;

/**
 * Writes simulated runs of the demo plan as traces, with what really happened beside them: {@code
 * SimulatedTraces FOLDER SCENARIO RIG FIRST_SEED COUNT}. Prints how long a run takes to simulate.
 */
public final class SimulatedTraces {
  private SimulatedTraces() {}

  public static void main(String[] arguments) throws IOException {
    Path folder = Files.createDirectories(Path.of(arguments[0]));
    Scenario scenario = Scenario.findByName(arguments[1]).orElseThrow();
    Rig rig = Rig.findByWord(arguments[2]).orElseThrow();
    long first = Long.parseLong(arguments[3]);
    long count = Long.parseLong(arguments[4]);
    for (long seed = first; seed < first + count; seed++) {
      String name = scenario.name() + "-" + rig.word() + "-" + seed;
      Simulation run = new Simulation(Plans.demo(), scenario, rig, seed);
      Path trace = folder.resolve(name + ".csv");
      Files.deleteIfExists(trace);
      try (TraceWriter writer =
          TraceWriter.begin(AppendFile.create(trace), EnumSet.copyOf(rig.places()))) {
        while (run.advance()) {
          writer.add(run.reading(), run.place());
        }
      }
      Files.writeString(folder.resolve(name + ".truth"), run.truth().toString());
    }
    long start = System.nanoTime();
    long readings = 0;
    for (long seed = first; seed < first + count; seed++) {
      Simulation run = new Simulation(Plans.demo(), scenario, rig, seed);
      while (run.advance()) {
        readings++;
      }
    }
    double seconds = (System.nanoTime() - start) * 1e-9;
    System.out.printf("%d readings, %.2f ms a run%n", readings, 1e3 * seconds / count);
  }
}
