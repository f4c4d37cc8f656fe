package pourwright.stage;

/** What has to be done on stage. */
public enum Chore {
  RINSE("rinse the paper"),
  DOSE("put the coffee in"),
  POUR("pour"),
  SWIRL("swirl"),
  LIFT("take the dripper off"),
  SERVE("serve"),
  CLEAN("clean up"),
  REFILL("refill the kettle"),
  MOVE_SCALE("put the scale under"),
  SPEAK("speak to the judges");

  private final String words;

  Chore(String words) {
    this.words = words;
  }

  /** In the imperative, as the stage card says it. */
  public String words() {
    return words;
  }
}
