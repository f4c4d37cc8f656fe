package pourwright.bench;

import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import pourwright.rig.Rig;

/** Thirteen kinds of recordings and what a detector has to reach on each. */
enum Family {
  CLEAN,
  NOISY,
  DROPOUT,
  TARE,
  SPLIT,
  PULSES,
  GENTLE,
  BATCHES,
  SLOW,
  COARSE,
  DISTURBED,
  SERVER,
  /** Two to four traits at once. */
  SEVERAL;

  Rig rig() {
    return switch (this) {
      case SPLIT -> Rig.SPLIT;
      case SERVER -> Rig.SERVER;
      default -> Rig.WHOLE;
    };
  }

  Set<Trait> traits(Dice dice) {
    return switch (this) {
      case CLEAN, SPLIT, SERVER -> Set.of();
      case NOISY -> Set.of(Trait.NOISY);
      case DROPOUT -> Set.of(Trait.INTERRUPTED);
      case TARE -> Set.of(Trait.TARED);
      case PULSES -> Set.of(Trait.PULSED);
      case GENTLE -> Set.of(Trait.GENTLE);
      case BATCHES -> Set.of(Trait.BATCHED);
      case SLOW -> Set.of(Trait.SLOW);
      case COARSE -> Set.of(Trait.COARSE);
      case DISTURBED -> Set.of(Trait.DISTURBED);
      case SEVERAL -> several(dice);
    };
  }

  private static Set<Trait> several(Dice dice) {
    EnumSet<Trait> drawn = EnumSet.noneOf(Trait.class);
    int wanted = dice.countBetween(2, 4);
    while (drawn.size() < wanted) {
      drawn.add(dice.pick(Trait.values()));
    }
    return drawn;
  }

  Target target() {
    return switch (this) {
      case CLEAN -> Target.of(0.55, 0.75, 0.95, 1.15, 0, 0.06, 0.15, 0.08, 0.20, 0.06, 0.20, 0);
      case NOISY -> Target.of(0.65, 0.85, 1.05, 1.5, 1, 0.07, 0.20, 0.09, 0.25, 0.10, 0.35, 0);
      case DROPOUT, TARE, PULSES -> Target.MIDDLING;
      case SPLIT -> Target.MIDDLING.withDrained(0.3, 1.2);
      case GENTLE -> Target.of(0.80, 1.05, 1.1, 1.5, 1, 0.09, 0.30, 0.10, 0.35, 0.10, 0.40, 0);
      case BATCHES -> Target.of(0.80, 1.20, 1.3, 1.9, 1, 0.09, 0.25, 0.10, 0.30, 0.08, 0.30, 0);
      case SLOW -> Target.of(0.95, 1.25, 1.6, 2.0, 2, 0.10, 0.25, 0.10, 0.25, 0.10, 0.40, 1);
      case COARSE -> Target.of(0.95, 1.35, 1.35, 2.0, 1, 0.18, 0.50, 0.15, 0.45, 0.35, 1.2, 0);
      case DISTURBED -> Target.of(0.70, 1.00, 1.1, 1.5, 3, 0.08, 0.25, 0.10, 0.30, 0.10, 1.5, 2);
      // pours are only inferred from the outflow, so nothing is asked of them
      case SERVER -> Target.NONE.withDrained(0.3, 2.0);
      case SEVERAL -> Target.of(1.10, 2.00, 1.6, 3.0, 10, 0.15, 0.70, 0.15, 0.60, 0.25, 3.0, 3);
    };
  }

  String word() {
    return name().toLowerCase(Locale.ROOT);
  }

  static Optional<Family> findByWord(String word) {
    return List.of(values()).stream().filter(family -> family.word().equals(word)).findFirst();
  }
}
