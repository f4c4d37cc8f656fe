package pourwright.cli;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.SplittableRandom;

/** Small made-up traces: steady pours on a tared whole rig, then the lift. */
final class Traces {
  static final double LIFT_SECONDS = 185;
  private static final double[][] POURS = {{5, 42, 5}, {53, 66, 6}, {94, 78, 6}, {135, 78, 6}};

  private Traces() {}

  /** Four pours of the demo plan, begun at 5 s, weighed ten times a second. */
  static Path fourPours(Path folder) throws IOException {
    SplittableRandom noise = new SplittableRandom(11);
    StringBuilder text = new StringBuilder("time_s,mass_g\r\n");
    for (int i = 0; i <= 2000; i++) {
      double at = i / 10.0;
      double mass = at > LIFT_SECONDS ? -160 : 0;
      for (double[] pour : POURS) {
        mass += Math.max(0, Math.min(pour[1], (at - pour[0]) * pour[2]));
      }
      mass += 0.1 * (noise.nextDouble() - 0.5);
      text.append(String.format(Locale.ROOT, "%.1f,%.1f\r\n", at, mass));
    }
    return Files.writeString(folder.resolve("four-pours.csv"), text);
  }

  static Path file(Path folder, String name, String text) throws IOException {
    return Files.writeString(folder.resolve(name), text);
  }
}
