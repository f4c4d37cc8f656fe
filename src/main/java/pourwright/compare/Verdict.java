package pourwright.compare;

import java.util.Locale;

/** What became of a pour. */
public enum Verdict {
  /** Mass, start and flow within the plan's tolerances. */
  INSIDE,
  /** At least one of them beyond. */
  OUTSIDE,
  /** Planned and not made. */
  MISSED,
  /** Made and not planned. */
  EXTRA,
  /** Planned as one, made in pieces. */
  SPLIT,
  /** Planned as several, made as one. */
  MERGED;

  /** As written in files. */
  public String word() {
    return name().toLowerCase(Locale.ROOT);
  }
}
