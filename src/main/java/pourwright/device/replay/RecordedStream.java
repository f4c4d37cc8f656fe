package pourwright.device.replay;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.Optional;
import pourwright.device.Transport.Arrival;
import pourwright.recording.RawStreamReader;

/** A raw stream, bytes and losses as they were. */
final class RecordedStream implements ArrivalSource {
  private final RawStreamReader reader;

  RecordedStream(RawStreamReader reader) {
    this.reader = reader;
  }

  @Override
  public Optional<Arrival> next() throws IOException {
    return reader.next();
  }

  @Override
  public void close() {
    try {
      reader.close();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
