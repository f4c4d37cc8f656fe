package pourwright.detect;

import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;
import pourwright.reading.Stability;
import pourwright.rig.Place;
import pourwright.rig.Rig;

/**
 * Readings a second through the live detector, and bytes allocated for each ({@code -prof gc}).
 *
 * <p>{@code java -cp target/test-classes:target/classes:... org.openjdk.jmh.Main DetectorBenchmark
 * -prof gc}
 */
@State(Scope.Thread)
@BenchmarkMode(Mode.Throughput)
@OutputTimeUnit(TimeUnit.SECONDS)
@Warmup(iterations = 2, time = 1)
@Measurement(iterations = 3, time = 1)
@Fork(1)
public class DetectorBenchmark {
  private static final long PERIOD = 12_500_000;

  private Detector detector = new Detector(Rig.WHOLE, DetectorSettings.standard(), event -> {});
  private long at;
  private long mass;
  private long grow;
  private int step;

  @Setup
  public void settle() {
    detector = new Detector(Rig.WHOLE, DetectorSettings.standard(), event -> {});
    at = 0;
    mass = 0;
    grow = 0;
    for (int i = 0; i < 800; i++) {
      rest();
    }
  }

  /** An 80 Hz scale at rest. */
  @Benchmark
  public void rest() {
    step++;
    at += PERIOD;
    mass += grow;
    long jitter = ((step * 2654435761L) >>> 7 & 3) * 10_000_000L;
    detector.weigh(Place.WHOLE, at, mass + jitter, Stability.UNSTATED);
  }

  /** The same scale in a pour of 5 g/s that never ends. */
  @Benchmark
  public void pour() {
    grow = 5 * PERIOD;
    rest();
  }
}
