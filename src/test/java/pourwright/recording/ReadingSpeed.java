package pourwright.recording;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Set;
import java.util.SplittableRandom;
import pourwright.reading.Reading;
import pourwright.reading.Stability;
import pourwright.rig.Place;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/** Prints how long a trace of one hour at 80 readings a second takes to write and to read. */
public final class ReadingSpeed {
  private static final int READINGS = 3600 * 80;
  private static final int ROUNDS = 5;

  private ReadingSpeed() {}

  public static void main(String[] arguments) throws IOException {
    Path file = Files.createTempFile("one-hour", ".csv");
    Files.delete(file);
    SplittableRandom random = new SplittableRandom(1);
    long start = System.nanoTime();
    try (TraceWriter writer = TraceWriter.begin(AppendFile.create(file), Set.of(Place.WHOLE))) {
      for (int i = 0; i < READINGS; i++) {
        writer.add(
            new Reading(
                SessionTime.ofNanos(12_500_000L * i + random.nextInt(1_000_000)),
                Mass.ofMilligrams(10L * random.nextInt(30_000)),
                Stability.MOVING),
            Place.WHOLE);
      }
    }
    System.out.printf("written %d in %.3f s%n", READINGS, (System.nanoTime() - start) * 1e-9);
    for (int round = 0; round < ROUNDS; round++) {
      start = System.nanoTime();
      int size = TraceCsv.read(file, Place.WHOLE).trace().size();
      System.out.printf("read    %d in %.3f s%n", size, (System.nanoTime() - start) * 1e-9);
    }
    System.out.printf("%d bytes a reading on disk%n", Files.size(file) / READINGS);
    Files.delete(file);
  }
}
