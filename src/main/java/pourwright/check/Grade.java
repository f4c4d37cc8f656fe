package pourwright.check;

import java.util.Locale;

/** How a scale does in one respect. */
public enum Grade {
  PASS,
  BORDERLINE,
  FAIL,
  /** Not measured. */
  UNKNOWN;

  public String word() {
    return this == UNKNOWN ? "not known" : name().toLowerCase(Locale.ROOT);
  }

  /** By a figure and the two limits it should keep. */
  static Grade of(double value, double good, double bearable) {
    return value <= good ? PASS : value <= bearable ? BORDERLINE : FAIL;
  }
}
