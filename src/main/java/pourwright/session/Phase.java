package pourwright.session;

/**
 * How far a rehearsal, or one lane of it, has come; only ever forward, except for looking again.
 */
public enum Phase {
  /** No scale of the lane has been heard yet. */
  LOOKING_FOR_SCALE,
  /** The scale is heard; the rig is not still, or not tared. */
  SETTLING,
  /** Still and tared: the first water starts the clock. */
  ARMED,
  /** First water has landed. */
  RUNNING,
  /** The dripper was lifted, the brewer stopped, or nothing more came; all is kept. */
  FINISHED
}
