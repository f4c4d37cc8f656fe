package pourwright.device.replay;

import java.io.IOException;
import java.util.Optional;
import pourwright.device.Bytes;
import pourwright.device.Transport.Arrival;

/** Where a played link takes what it says from: a file or a simulation, with times of its own. */
public interface ArrivalSource extends AutoCloseable {
  /**
   * What came up the link next; times never go back. Empty when there is no more.
   *
   * @throws IOException when the rest cannot be read; the message is one plain sentence
   */
  Optional<Arrival> next() throws IOException;

  /** A command was sent to the device; called by any thread. A recording cannot heed it. */
  default void heed(Bytes command) {}

  @Override
  default void close() {}
}
