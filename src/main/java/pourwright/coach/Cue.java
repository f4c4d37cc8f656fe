package pourwright.coach;

import java.util.OptionalInt;
import pourwright.units.SessionTime;

/**
 * One thing said to the brewer, once.
 *
 * @param at when it was said
 * @param pour planned pour it is about
 * @param say a few plain words, fit to be shown or spoken
 */
public record Cue(Kind kind, SessionTime at, OptionalInt pour, String say) {

  public enum Kind {
    /** A pour is due in a few seconds. */
    GET_READY,
    /** Pour now. */
    START,
    /** The pour is due for longer than the tolerance and has not begun. */
    LATE,
    SLOWER,
    FASTER,
    /** The pour is nearly full. */
    EASE_OFF,
    /** Stop now to land on the planned mass. */
    STOP,
    /** A pour has ended: how it went. */
    POURED,
    /** All pours are made. */
    DONE,
    /** A talk mark is due. */
    TALK,
    /** The scale is not heard; guidance stops. */
    LINK_LOST,
    LINK_BACK
  }
}
