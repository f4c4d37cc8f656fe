package pourwright.device;

import java.io.IOException;
import java.time.Duration;
import pourwright.units.SessionTime;

/**
 * Moves bytes to and from one device. Knows no frame, no unit, no weight.
 *
 * <p>A transport that can lose its device takes it again by itself and says so: {@link
 * Arrival.Lost} once, then silence, then {@link Arrival.Restored}. Used by one thread, except
 * {@link #send} and {@link #close}, which any thread may call.
 */
public interface Transport extends AutoCloseable {
  /**
   * Waits for what comes next, at most {@code patience}; a quiet line is an answer, not an error.
   *
   * @throws InterruptedException when the waiting thread is told to stop
   */
  Arrival receive(Duration patience) throws InterruptedException;

  /**
   * Sends a command to the device.
   *
   * @throws IOException when it could not be handed to the link; the message is one plain sentence
   */
  void send(Bytes command) throws IOException;

  /** Lets the device go. May be called twice. */
  @Override
  void close();

  /** What came up the link, in order. Times never go back. */
  sealed interface Arrival {
    SessionTime at();

    /** Bytes came. */
    record Received(Chunk chunk) implements Arrival {
      @Override
      public SessionTime at() {
        return chunk.at();
      }
    }

    /**
     * The link itself told how full the device's battery is, beside the weights.
     *
     * @param batteryPercent 0 to 100
     */
    record Charged(SessionTime at, int batteryPercent) implements Arrival {}

    /** Nothing came within the patience given. */
    record Silence(SessionTime at) implements Arrival {}

    /**
     * The device is gone, or has been quiet for longer than a working scale is.
     *
     * @param why one plain sentence for the brewer: what happened and what to do
     */
    record Lost(SessionTime at, String why) implements Arrival {}

    /** The device is back; bytes before and after do not join. */
    record Restored(SessionTime at) implements Arrival {}

    /** The source has no more: a replayed file ended. */
    record Ended(SessionTime at) implements Arrival {}
  }
}
