package pourwright.simulate;

/** What else may happen to the rig during a run. */
public enum Mishap {
  /** The kettle rests on the rim for a moment in mid pour. */
  KETTLE_ON_RIM,
  /** A hand leans on the rig between two pours. */
  LEANING_HAND,
  /** The dripper is swirled after a pour. */
  SWIRL,
  /** The bench is struck. */
  THUMP,
  /** A spoon is put down beside the server and taken away again. */
  SPOON,
  /** The scale is zeroed between two pours. */
  TARE,
  /** The link is quiet for some seconds. */
  DROPOUT
}
