package pourwright.simulate;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import pourwright.simulate.Truth.Happened;
import pourwright.units.SessionTime;

/** Forces on the rig that are neither water nor vessels; each is given a moment to fit the run. */
final class Disturbances {
  private final List<Force> forces = new ArrayList<>();
  private final List<Happened> happened = new ArrayList<>();
  private double quietFrom = Double.NaN;
  private double quietUntil = Double.NaN;

  /** One push, from {@code start} for {@code seconds} (s). */
  private record Force(Mishap kind, double start, double seconds, double grams) {

    double at(double now) {
      double age = now - start;
      if (age < 0 || age > seconds) {
        return 0;
      }
      double share = age / seconds;
      return switch (kind) {
        case KETTLE_ON_RIM -> grams * Math.sin(Math.PI * share);
        case LEANING_HAND -> grams * Math.min(1, 5 * Math.min(share, 1 - share));
        case SWIRL -> grams * Math.sin(2 * Math.PI * 2.2 * age) * Math.sin(Math.PI * share);
        case THUMP -> grams * Math.exp(-age / 0.06) * Math.cos(2 * Math.PI * 12 * age);
        case SPOON -> grams;
        case TARE, DROPOUT -> 0;
      };
    }
  }

  /**
   * Plans the mishaps that fall into a pour.
   *
   * @param start first water (s)
   */
  void duringPour(Mishap mishap, double start, SplittableRandom random) {
    if (mishap == Mishap.KETTLE_ON_RIM) {
      push(mishap, start + 2 + 2 * random.nextDouble(), 0.4, 25 + 25 * random.nextDouble());
    }
  }

  /**
   * Plans a mishap that falls between two pours.
   *
   * @param end last water (s)
   */
  void betweenPours(Mishap mishap, double end, SplittableRandom random) {
    double start = end + 3 + 2 * random.nextDouble();
    switch (mishap) {
      case LEANING_HAND -> push(mishap, start, 1.5, 40 + 60 * random.nextDouble());
      case SWIRL -> push(mishap, start, 2.5, 12 + 10 * random.nextDouble());
      case THUMP -> push(mishap, start, 0.4, 60 + 60 * random.nextDouble());
      case SPOON -> push(mishap, start, 6, 25);
      case DROPOUT -> {
        quietFrom = start;
        quietUntil = start + 2 + 2 * random.nextDouble();
        note(mishap, quietFrom, quietUntil);
      }
      case KETTLE_ON_RIM, TARE -> {}
    }
  }

  private void push(Mishap kind, double start, double seconds, double grams) {
    forces.add(new Force(kind, start, seconds, grams));
    note(kind, start, start + seconds);
  }

  private void note(Mishap mishap, double start, double end) {
    happened.add(new Happened(mishap, SessionTime.ofSeconds(start), SessionTime.ofSeconds(end)));
  }

  /** All of them together (g of weight). */
  double gramsAt(double now) {
    double grams = 0;
    for (int i = 0; i < forces.size(); i++) {
      grams += forces.get(i).at(now);
    }
    return grams;
  }

  boolean isLinkUp(double now) {
    return !(now >= quietFrom && now < quietUntil);
  }

  List<Happened> happened() {
    return happened;
  }
}
