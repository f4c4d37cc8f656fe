package pourwright.session;

import java.io.IOException;
import pourwright.detect.PourEvent;
import pourwright.device.Chunk;
import pourwright.reading.Reading;
import pourwright.units.SessionTime;

/**
 * Keeps a run.
 *
 * <p>All calls come from one thread, which is not the thread that runs the rehearsal. Every method
 * but {@link #persist} only takes note and cannot fail; {@code persist} is called at least once a
 * second and makes safe, raw bytes first, all that was noted. When it fails, nothing that was noted
 * is forgotten: the rehearsal goes on, the brewer is told, and the next call tries again.
 */
public interface Journal {
  void begin(RunStart start);

  /** Bytes of one scale, before anyone interprets them. */
  void chunk(Stand from, Chunk chunk);

  /** The link broke; bytes before and after do not join. */
  default void lost(Stand from, SessionTime at, String why) {}

  /** The link came back. */
  default void restored(Stand from, SessionTime at) {}

  void reading(Stand from, Reading reading);

  /** An event as announced. */
  void event(int lane, PourEvent event);

  /** What the brewer told the rehearsal, as it was carried out. */
  default void command(SessionTime at, Command command) {}

  /** The run is over; the last {@code persist} follows. */
  void end(Outcome outcome);

  /**
   * Makes everything noted so far survive a power cut.
   *
   * @throws IOException when it cannot; the message is one plain sentence: what happened, what was
   *     kept, what to do
   */
  void persist() throws IOException;
}
