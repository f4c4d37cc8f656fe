package pourwright.check;

/** The parts of a check, in the order they are done. */
public enum Part {
  QUIET("empty scale", "noise, display step, reading rate"),
  REPEAT("the same load again and again", "repeatability, return to zero, step response"),
  LOADS("loads up and down", "error at each load, linearity, hysteresis"),
  CORNERS("the four corners", "corner error"),
  HOLD("a load that stays", "creep and drift"),
  SLOW_WATER("slow water", "auto-zero and freezing");

  private final String title;
  private final String finds;

  Part(String title, String finds) {
    this.title = title;
    this.finds = finds;
  }

  public String title() {
    return title;
  }

  /** What it finds, in plain words. */
  public String finds() {
    return finds;
  }
}
