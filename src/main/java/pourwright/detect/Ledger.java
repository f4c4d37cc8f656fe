package pourwright.detect;

import java.util.ArrayList;
import java.util.List;

/**
 * What a phase hands to the next: the brew so far.
 *
 * @param pours announced so far
 * @param settled water of the pours that have ended (g)
 * @param lastBase level from which the last pour is counted (g)
 * @param lastStart when the last announced pour began (s); negative infinity before
 * @param lastStop when the last announced pour ended (s); negative infinity before
 * @param endSaid whether the end of the last pour has been announced; it is not said twice
 * @param placed what was put on the rig since the first pour and is still there (g)
 * @param left the weight that the last pour left, whatever was put down since; negative infinity
 *     before (g)
 * @param grounds what is known of the coffee
 * @param load what the display has not shown for long
 */
record Ledger(
    int pours,
    double settled,
    double lastBase,
    double lastStart,
    double lastStop,
    boolean endSaid,
    double placed,
    double left,
    Grounds grounds,
    Load load) {
  private static final double NEVER = Double.NEGATIVE_INFINITY;

  static final Ledger EMPTY =
      new Ledger(0, 0, 0, NEVER, NEVER, false, 0, NEVER, Grounds.POSSIBLE, Load.NONE);

  /** Whether ground coffee may still be tipped in, and from which flow on a rise may be that. */
  enum Grounds {
    /** The rig was put together before our eyes, without coffee so far. */
    EXPECTED(5, 8),
    /** Nothing is known. */
    POSSIBLE(8.5, 10.5),
    /** The coffee was seen, or water. */
    IN(Double.POSITIVE_INFINITY, Double.POSITIVE_INFINITY);

    private final double slowest;
    private final double sure;

    /**
     * Own trials; a pour is seldom so fast.
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

  /** Something of {@code grams} was put on the rig before the first pour. */
  Ledger prepared(double grams, double before, double mostDose) {
    if (pours > 0 || grams < mostDose / 5) {
      return this;
    }
    boolean isVessel = grams > Judgement.DOSES_OF_A_VESSEL * mostDose;
    Grounds known = isVessel ? Grounds.EXPECTED : Grounds.IN;
    Load now = isVessel ? load.withEmpty(before) : load;
    return new Ledger(
        pours, settled, lastBase, lastStart, lastStop, endSaid, placed, left, known, now);
  }

  Ledger with(Grounds known) {
    return new Ledger(
        pours, settled, lastBase, lastStart, lastStop, endSaid, placed, left, known, load);
  }

  /** A tare took so much off the display (g). */
  Ledger tared(double grams) {
    return new Ledger(
        pours,
        settled,
        lastBase,
        lastStart,
        lastStop,
        endSaid,
        placed,
        left,
        grounds,
        load.tared(grams));
  }

  /**
   * The load since the first reading, tares added back.
   *
   * @param taken what tares took off the display (g)
   * @param empties the loads on which vessels were then put (g)
   */
  record Load(double taken, List<Double> empties) {
    static final Load NONE = new Load(0, List.of());

    Load {
      empties = List.copyOf(empties);
    }

    Load tared(double grams) {
      return new Load(taken + grams, empties);
    }

    Load withEmpty(double level) {
      List<Double> more = new ArrayList<>(empties);
      more.add(level + taken);
      return new Load(taken, more);
    }
  }

  Ledger started(double start) {
    return new Ledger(
        pours + 1, settled, lastBase, start, lastStop, false, placed, left, grounds, load);
  }

  Ledger stopped(double base, double stop, double water) {
    return new Ledger(
        pours, settled + water, base, lastStart, stop, true, placed, base + water, grounds, load);
  }

  /** The last pour goes on: its {@code water} is no longer settled. */
  Ledger resumed(double water) {
    return new Ledger(
        pours,
        settled - water,
        lastBase,
        lastStart,
        lastStop,
        endSaid,
        placed,
        left,
        grounds,
        load);
  }

  /** The display moved by {@code change} without water: levels kept from before move along. */
  Ledger shifted(double change) {
    return new Ledger(
        pours,
        settled,
        lastBase + change,
        lastStart,
        lastStop,
        endSaid,
        placed,
        left + change,
        grounds,
        load);
  }

  /** What seemed to be poured was no brew: that has yet to begin. */
  Ledger discarded(Grounds known) {
    return new Ledger(0, 0, 0, NEVER, NEVER, false, 0, NEVER, known, load);
  }

  Ledger placed(double grams) {
    return new Ledger(
        pours,
        settled,
        lastBase + grams,
        lastStart,
        lastStop,
        endSaid,
        Math.max(0, placed + grams),
        left,
        grounds,
        load);
  }
}
