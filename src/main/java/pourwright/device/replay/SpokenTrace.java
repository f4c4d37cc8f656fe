package pourwright.device.replay;

import java.util.Optional;
import java.util.stream.IntStream;
import pourwright.device.Bytes;
import pourwright.device.Chunk;
import pourwright.device.Transport.Arrival;
import pourwright.reading.Stability;
import pourwright.recording.Trace;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * A trace, spoken as lines of a shipped profile: {@code 12.345 g}, or {@code S 12.345 g} where the
 * trace says whether weights were stable. Nothing is rounded, so the weights that are decoded are
 * those of the trace, at the times of the trace.
 */
final class SpokenTrace implements ArrivalSource {
  private static final String PLAIN_PROFILE = "number-unit";
  private static final String STATUS_PROFILE = "status-letter";

  private final Trace trace;
  private final boolean tellsStability;
  private int index;

  SpokenTrace(Trace trace) {
    this.trace = trace;
    this.tellsStability =
        IntStream.range(0, trace.size())
            .anyMatch(index -> trace.stabilityAt(index) != Stability.UNSTATED);
  }

  /** What its lines are read with. */
  String profile() {
    return tellsStability ? STATUS_PROFILE : PLAIN_PROFILE;
  }

  @Override
  public Optional<Arrival> next() {
    if (index == trace.size()) {
      return Optional.empty();
    }
    Mass mass = Mass.ofNanograms(trace.nanogramsAt(index));
    StringBuilder line = new StringBuilder();
    if (index == 0) {
      line.append("\r\n"); // a reader trusts a line once it has seen where one begins
    }
    if (tellsStability) {
      line.append(trace.stabilityAt(index) == Stability.STABLE ? "S " : "D ");
    }
    Bytes bytes = Bytes.ofAscii(line.append(mass).append("\r\n").toString());
    SessionTime at = SessionTime.ofNanos(trace.nanosAt(index));
    index++;
    return Optional.of(new Arrival.Received(new Chunk(at, bytes)));
  }
}
