package pourwright.forecast;

/**
 * Something that stands in a plan's way.
 *
 * @param pour that meets it, counted from 1
 * @param by how much, in the unit of its kind
 * @param says what happens, as one sentence
 * @param fix what would help, as one sentence
 */
public record Trouble(int pour, Kind kind, double by, String says, String fix) {

  /** What can stand in the way, and the unit that tells by how much. */
  public enum Kind {
    /** The slurry rises over the rim; mL of it. */
    OVERFLOW,
    /** Flow beyond the kettle; g/s. */
    KETTLE_FLOW,
    /** Flow beyond what the hand has poured so far; g/s. */
    HAND_FLOW,
    /** The pour starts while water still stands; s. */
    BEFORE_DRAINED,
    /** A bed waited for drains at another time than the plan expects; s, positive when later. */
    DRAINED_OTHERWISE,
    /** The bed drains after the limit; s. */
    OVER_TIME,
    /** The kettle is fuller than full; g. */
    KETTLE_OVERFULL,
    /** The kettle runs short; g. */
    KETTLE_SHORT,
    /** The kettle is cooler than the plan allows; K. */
    KETTLE_COOL
  }
}
