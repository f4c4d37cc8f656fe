package pourwright.detect;

import pourwright.units.SessionTime;

/** A time in which the scale carried, or was pushed by, something that is not the brew. */
public record Disturbance(SessionTime start, SessionTime end, Kind kind) {

  public enum Kind {
    /** A short knock: the weight left and came back. */
    BUMP,
    /** A hand or a kettle rested on the rig. */
    LEAN,
    /** The rig was moved about: the weight swung around its value. */
    SWIRL,
    /** Something was put down on the rig; it may still be there. */
    OBJECT_PLACED,
    /** Something that was put down was taken away. */
    OBJECT_REMOVED,
    /** The vessel was lifted and put back. */
    VESSEL_LIFTED
  }
}
