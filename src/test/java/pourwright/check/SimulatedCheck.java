package pourwright.check;

import java.util.ArrayList;
import java.util.List;
import java.util.NavigableMap;
import java.util.TreeMap;
import java.util.function.Consumer;
import pourwright.metrology.WeightClass;
import pourwright.simulate.CheckingHand;
import pourwright.simulate.Flaws;
import pourwright.simulate.ScaleTraits;
import pourwright.simulate.TestedScale;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/** A whole check on a simulated scale whose flaws are known. */
final class SimulatedCheck {
  /** A scale that is off this long is called lost, as a transport does. */
  private static final double LOST_SECONDS = 1.5;

  private static final long MOST_READINGS = 400_000;

  private final TestedScale scale;
  private final CheckingHand hand;
  private final Check check;
  private final List<Notice> said = new ArrayList<>();
  private final NavigableMap<Double, Double> felt = new TreeMap<>();

  SimulatedCheck(ScaleTraits traits, Flaws flaws, Programme programme, long seed) {
    this.scale = new TestedScale(traits, flaws, seed);
    this.hand = new CheckingHand(scale, seed);
    this.check = new Check(programme);
    hear(check.begin());
  }

  static Kit kit(WeightClass of, int... grams) {
    List<TestLoad> weights = new ArrayList<>();
    for (int one : grams) {
      weights.add(TestLoad.ofClass(Mass.ofMilligrams(one * 1000L), of));
    }
    return new Kit(weights, Kit.ANY_OBJECT);
  }

  private void hear(List<Notice> notices) {
    said.addAll(notices);
    hand.hear(notices, check.ask());
  }

  Check check() {
    return check;
  }

  TestedScale scale() {
    return scale;
  }

  CheckingHand hand() {
    return hand;
  }

  List<Notice> said() {
    return said;
  }

  List<Notice> said(Notice.Kind kind) {
    return said.stream().filter(one -> one.kind() == kind).toList();
  }

  /** What the load cell felt on average between two moments (g). */
  double felt(double from, double to) {
    return felt.subMap(from, true, to, true).values().stream()
        .mapToDouble(Double::doubleValue)
        .average()
        .orElseThrow();
  }

  SimulatedCheck run() {
    return run(step -> {});
  }

  /**
   * @param before called before each step begins, to plan mischief
   */
  SimulatedCheck run(Consumer<Integer> before) {
    int step = 0;
    double last = 0;
    for (long i = 0; i < MOST_READINGS && !check.isDone() && scale.advance(); i++) {
      double now = scale.reading().at().seconds();
      if (now - last > LOST_SECONDS) {
        hear(check.onLost(SessionTime.ofSeconds(last + LOST_SECONDS), "switched off"));
      }
      last = now;
      felt.put(now, scale.feltGrams());
      hear(check.on(scale.reading()));
      int reached = check.view().step();
      if (reached != step) {
        step = reached;
        before.accept(step);
      }
    }
    return this;
  }
}
