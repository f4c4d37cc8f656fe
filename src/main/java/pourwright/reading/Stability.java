package pourwright.reading;

/** Whether the scale itself calls a weight settled. */
public enum Stability {
  STABLE,
  MOVING,
  /** This scale does not say. */
  UNSTATED
}
