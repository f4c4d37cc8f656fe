package pourwright.check;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import pourwright.reading.Reading;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/** Ten readings a second, by hand, into a check. */
final class Readings {
  private final Check check;
  private final SplittableRandom random = new SplittableRandom(1);
  private final List<Notice> said = new ArrayList<>();
  private long millis;

  Readings(Check check) {
    this.check = check;
  }

  /** A weight that is there at once and stays. */
  void hold(double grams, double seconds) {
    for (int i = 0; i < Math.round(seconds * 10); i++) {
      double shown = Math.rint((grams + 0.03 * random.nextGaussian()) * 10) / 10;
      said.addAll(check.on(new Reading(now(), Mass.ofGrams(shown))));
      millis += 100;
    }
  }

  void skip(double seconds) {
    millis += Math.round(seconds * 1000);
  }

  SessionTime now() {
    return SessionTime.ofMillis(millis);
  }

  /** The last complaint or result, asks left out. */
  Notice last() {
    return said.stream()
        .filter(one -> one.kind() != Notice.Kind.ASK && one.kind() != Notice.Kind.COUNT)
        .reduce((first, second) -> second)
        .orElseThrow();
  }

  List<Notice> said() {
    return said;
  }
}
