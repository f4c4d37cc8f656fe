package pourwright.device.protocol;

import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** What a status word of a scale means. */
enum Meaning {
  STABLE,
  MOVING,
  /** Above the scale's range: no weight. */
  OVER,
  /** Below the scale's range: no weight. */
  UNDER,
  /** The displayed weight has a tare taken off. */
  NET,
  /** The displayed weight has no tare taken off. */
  GROSS,
  /** The line is not the present weight: a tare value, a set point. */
  OTHER;

  String word() {
    return name().toLowerCase(Locale.ROOT);
  }

  static Optional<Meaning> findByWord(String word) {
    return List.of(values()).stream().filter(one -> one.word().equals(word)).findFirst();
  }
}
