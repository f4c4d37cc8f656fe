package pourwright.check;

import pourwright.units.SessionTime;

/**
 * Something to tell the brewer, once.
 *
 * @param at when it was noticed
 * @param text one or two plain sentences
 */
public record Notice(SessionTime at, Kind kind, String text) {
  /** From beat to beat, and from the notice to the first (s). */
  public static final double BEAT_SECONDS = 1.0;

  /** How many beats a count has. */
  public static final int BEATS = 3;

  /** What it is about. */
  public enum Kind {
    /** What to do next. */
    ASK,
    /** Three beats follow, each {@link #BEAT_SECONDS} after the one before; move on the third. */
    COUNT,
    /** Stop the slow water. */
    STOP,
    /** A step is measured. */
    TAKEN,
    /** Somebody touched the scale; the step is measured again. */
    TOUCHED,
    /** Something else was done than asked; it is to be undone. */
    WRONG,
    /** The weight does not come to rest. */
    UNSTEADY,
    /** The scale is gone. */
    LOST,
    /** The scale is back. */
    BACK,
    /** All is done. */
    DONE
  }
}
