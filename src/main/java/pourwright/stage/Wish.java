package pourwright.stage;

/**
 * What makes one timetable better than another, the most important first: a later wish decides only
 * between timetables that are equal in all earlier ones.
 */
public enum Wish {
  /** Pours and lifts are as little off their moments as can be, all together. */
  ON_TIME("seconds off the planned moments, all pours and lifts together"),
  /** The cups are served close together. */
  TOGETHER("seconds from the first cup served to the last"),
  /** The routine is short. */
  SHORT("seconds until everything is done");

  private final String words;

  Wish(String words) {
    this.words = words;
  }

  public String words() {
    return words;
  }
}
