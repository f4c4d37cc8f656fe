package pourwright.detect;

import java.util.ArrayList;
import java.util.List;

/**
 * What a phase hands to the next: the brew so far.
 *
 * @param pours announced so far
 * @param settled water of the pours that have ended (g)
 * @param last what is known of the last pour
 * @param placed what was put on the rig since the first pour and is still there (g)
 * @param grounds what is known of the coffee
 * @param load what the display has not shown for long
 */
record Ledger(int pours, double settled, LastPour last, double placed, Grounds grounds, Load load) {
  static final Ledger EMPTY = new Ledger(0, 0, LastPour.NONE, 0, Grounds.POSSIBLE, Load.NONE);

  /**
   * The last pour that was announced.
   *
   * @param base level from which it is counted (g)
   * @param start when it began (s); negative infinity before the first
   * @param stop when the last one that ended did so (s); negative infinity before
   * @param left the weight that one left, whatever was put down since; negative infinity before (g)
   * @param endSaid whether its end has been announced; it is not said twice
   */
  record LastPour(double base, double start, double stop, double left, boolean endSaid) {
    private static final double NEVER = Double.NEGATIVE_INFINITY;

    static final LastPour NONE = new LastPour(0, NEVER, NEVER, NEVER, false);

    LastPour started(double at) {
      return new LastPour(base, at, stop, left, false);
    }

    LastPour stopped(double from, double at, double water) {
      return new LastPour(from, start, at, from + water, true);
    }

    /** Levels move, and what was left with them or not. */
    LastPour moved(double change, double leftChange) {
      return new LastPour(base + change, start, stop, left + leftChange, endSaid);
    }
  }

  /** Whether ground coffee may still be tipped in, and from which flow on a rise may be that. */
  enum Grounds {
    /** The rig was put together before our eyes, without coffee so far. */
    EXPECTED(6.5, 9),
    /** Nothing is known. */
    POSSIBLE(8.5, 10.5),
    /** The coffee was seen, or water. */
    IN(Double.POSITIVE_INFINITY, Double.POSITIVE_INFINITY);

    private final double slowest;
    private final double sure;

    /**
     * Own trials; a pour is seldom so fast, and one that is told seconds late is worse than coffee
     * that is told and taken back.
     *
     * @param slowest what rises slower is water (g/s)
     * @param sure what rises faster is coffee until more has come than a dose (g/s)
     */
    Grounds(double slowest, double sure) {
      this.slowest = slowest;
      this.sure = sure;
    }

    /** How much a rise of this flow is to be taken for coffee, 0 to 1. */
    double tipping(double gramsPerSecond) {
      return gramsPerSecond <= slowest
          ? 0
          : Math.min(1, (gramsPerSecond - slowest) / (sure - slowest));
    }
  }

  /**
   * Something of {@code grams} was put on the rig before the first pour: a vessel, or coffee, which
   * may come in portions.
   */
  Ledger prepared(double grams, double before, Dose dose) {
    if (pours > 0 || grams < Judgement.LEAST_OBJECT) {
      return this;
    }
    if (grams > dose.vessel()) {
      return new Ledger(pours, settled, last, placed, Grounds.EXPECTED, load.withEmpty(before));
    }
    Load now = load.withPortion(grams);
    Grounds known = now.coffee() >= dose.least() ? Grounds.IN : grounds;
    return new Ledger(pours, settled, last, placed, known, now);
  }

  /**
   * How much ground coffee there may be.
   *
   * @param least coffee that is all in is no less (g)
   * @param most more is not tipped in (g)
   */
  record Dose(double least, double most) {
    /** A vessel is hardly lighter than so many of the largest doses; own choice. */
    private static final double DOSES_OF_A_VESSEL = 1.5;

    /** Heavier is a vessel (g). */
    double vessel() {
      return DOSES_OF_A_VESSEL * most;
    }
  }

  Ledger with(Grounds known) {
    return new Ledger(pours, settled, last, placed, known, load);
  }

  /** A tare took so much off the display (g). */
  Ledger tared(double grams) {
    return new Ledger(pours, settled, last, placed, grounds, load.tared(grams));
  }

  /**
   * The load since the first reading, tares added back.
   *
   * @param taken what tares took off the display (g)
   * @param empties the loads on which vessels were then put (g)
   * @param coffee what may be coffee and was put on the newest of them at once (g)
   */
  record Load(double taken, List<Double> empties, double coffee) {
    static final Load NONE = new Load(0, List.of(), 0);

    Load {
      empties = List.copyOf(empties);
    }

    Load tared(double grams) {
      return new Load(taken + grams, empties, coffee);
    }

    Load withEmpty(double level) {
      List<Double> more = new ArrayList<>(empties);
      more.add(level + taken);
      return new Load(taken, more, 0);
    }

    Load withPortion(double grams) {
      return new Load(taken, empties, coffee + grams);
    }

    Load withoutCoffee() {
      return new Load(taken, empties, 0);
    }
  }

  Ledger started(double start) {
    return new Ledger(pours + 1, settled, last.started(start), placed, grounds, load);
  }

  Ledger stopped(double base, double stop, double water) {
    return new Ledger(
        pours, settled + water, last.stopped(base, stop, water), placed, grounds, load);
  }

  /** The last pour goes on: its {@code water} is no longer settled. */
  Ledger resumed(double water) {
    return new Ledger(pours, settled - water, last, placed, grounds, load);
  }

  /** The display moved by {@code change} without water: levels kept from before move along. */
  Ledger shifted(double change) {
    return new Ledger(pours, settled, last.moved(change, change), placed, grounds, load);
  }

  /** What seemed to be poured was no brew: that has yet to begin. */
  Ledger discarded(Grounds known) {
    return new Ledger(0, 0, LastPour.NONE, 0, known, load.withoutCoffee());
  }

  Ledger placed(double grams) {
    return new Ledger(
        pours, settled, last.moved(grams, 0), Math.max(0, placed + grams), grounds, load);
  }
}
