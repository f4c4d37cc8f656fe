package pourwright.device.protocol;

import java.io.ByteArrayOutputStream;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OperationsPerInvocation;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;
import org.openjdk.jmh.infra.Blackhole;
import org.openjdk.jmh.profile.GCProfiler;
import org.openjdk.jmh.runner.Runner;
import org.openjdk.jmh.runner.RunnerException;
import org.openjdk.jmh.runner.options.OptionsBuilder;
import pourwright.device.Bytes;
import pourwright.device.Chunk;
import pourwright.device.Decoder;
import pourwright.device.catalogue.Profiles;
import pourwright.reading.Stability;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * Bytes a decoder reads in a microsecond (that is, MB/s), and bytes it allocates for each byte
 * read.
 *
 * <p>{@code mvn -q test-compile exec:java -Dexec.classpathScope=test
 * -Dexec.mainClass=pourwright.device.protocol.DecoderBenchmark}
 */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.Throughput)
@OutputTimeUnit(TimeUnit.MICROSECONDS)
@Warmup(iterations = 3, time = 1)
@Measurement(iterations = 5, time = 1)
@Fork(1)
public class DecoderBenchmark {
  private static final int STREAM_BYTES = 1 << 16;

  @Param({
    "bare-number",
    "number-unit",
    "status-comma",
    "status-letter",
    "control-frame",
    "binary-sum",
    "binary-crc"
  })
  String profile = "";

  /** What a slow line and what a file delivers at a time. */
  @Param({"64", "4096"})
  int chunkBytes;

  private Decoder decoder = Profiles.shipped().list().get(0).newDecoder();
  private List<Chunk> chunks = List.of();

  /** Speaks a slow rise from 0 to 300 g in the profile's bytes. */
  @Setup
  public void speak() {
    Profile spoken = Profiles.shipped().find(profile).orElseThrow();
    Encoder encoder = spoken.newEncoder();
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    int weights = 0;
    while (out.size() < STREAM_BYTES) {
      byte[] said =
          encoder.weight(Mass.ofMilligrams(100L * (weights++ % 3000)), Stability.MOVING).toArray();
      out.write(said, 0, said.length);
    }
    byte[] stream = out.toByteArray();
    System.out.printf("# %d weights, %.1f bytes each%n", weights, stream.length / (double) weights);
    chunks = new ArrayList<>();
    for (int from = 0; from < STREAM_BYTES; from += chunkBytes) {
      chunks.add(
          new Chunk(SessionTime.ofMillis(from), Bytes.copyOf(stream, from, from + chunkBytes)));
    }
    decoder = spoken.newDecoder();
  }

  /** Feeds the stream once. */
  @Benchmark
  @OperationsPerInvocation(STREAM_BYTES)
  public void decode(Blackhole hole) {
    decoder.reset();
    for (Chunk chunk : chunks) {
      hole.consume(decoder.feed(chunk));
    }
  }

  /** Runs it. */
  public static void main(String[] args) throws RunnerException {
    new Runner(
            new OptionsBuilder()
                .include(DecoderBenchmark.class.getName())
                .addProfiler(GCProfiler.class)
                .build())
        .run();
  }
}
