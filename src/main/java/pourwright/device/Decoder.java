package pourwright.device;

import java.util.List;
import java.util.OptionalInt;
import pourwright.reading.Reading;
import pourwright.units.SessionTime;

/**
 * Turns a byte stream, however it was cut, into readings. No I/O, no clock, one thread.
 *
 * <p>Where the stream was cut changes neither the readings nor their order; it only changes the
 * arrival stamp they carry. Garbage never throws, never eats a following good frame and never
 * yields a mass that was not sent whole.
 */
public interface Decoder {
  /** What these bytes completed, in stream order; an unfinished tail waits for the next call. */
  List<Decoded> feed(Chunk chunk);

  /** Forgets an unfinished tail: what comes next does not join what came before. */
  void reset();

  /**
   * Every byte ends in exactly one of these, or in the waiting tail, which has a greatest length.
   */
  sealed interface Decoded {
    SessionTime at();

    /** A weight. */
    record Weighed(Reading reading) implements Decoded {
      @Override
      public SessionTime at() {
        return reading.at();
      }
    }

    /**
     * The scale says that it cannot weigh this.
     *
     * @param over true above its range, false below
     */
    record OutOfRange(SessionTime at, boolean over) implements Decoded {}

    /**
     * The device told something about itself that is no weight.
     *
     * @param batteryPercent 0 to 100, where it was told
     */
    record Told(SessionTime at, OptionalInt batteryPercent) implements Decoded {}

    /**
     * Bytes that are no frame of this profile.
     *
     * @param why what was wrong, in plain words
     */
    record Junk(SessionTime at, Bytes skipped, String why) implements Decoded {}
  }
}
