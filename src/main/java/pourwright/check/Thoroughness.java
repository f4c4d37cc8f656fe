package pourwright.check;

import java.util.Locale;
import java.util.Optional;

/** How long a check takes. */
public enum Thoroughness {
  /** About two minutes: between two rounds of an event. */
  QUICK(8, 5, false, 0, 0),
  /** About five minutes: the morning of an event. */
  USUAL(10, 6, true, 60, 40),
  /** About fifteen minutes, from cold: for a new scale. */
  LONG(20, 10, true, 360, 60);

  private final double quietSeconds;
  private final int placings;
  private final boolean hasCorners;
  private final double holdSeconds;
  private final double dripSeconds;

  Thoroughness(
      double quietSeconds,
      int placings,
      boolean hasCorners,
      double holdSeconds,
      double dripSeconds) {
    this.quietSeconds = quietSeconds;
    this.placings = placings;
    this.hasCorners = hasCorners;
    this.holdSeconds = holdSeconds;
    this.dripSeconds = dripSeconds;
  }

  double quietSeconds() {
    return quietSeconds;
  }

  /** Five or more (EURAMET cg-18, 5.1). */
  int placings() {
    return placings;
  }

  boolean hasCorners() {
    return hasCorners;
  }

  double holdSeconds() {
    return holdSeconds;
  }

  double dripSeconds() {
    return dripSeconds;
  }

  public String word() {
    return name().toLowerCase(Locale.ROOT);
  }

  public static Optional<Thoroughness> findByWord(String word) {
    for (Thoroughness one : values()) {
      if (one.word().equals(word.toLowerCase(Locale.ROOT))) {
        return Optional.of(one);
      }
    }
    return Optional.empty();
  }
}
