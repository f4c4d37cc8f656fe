package pourwright.detect;

/**
 * What a phase hands to the next: the brew so far.
 *
 * @param pours announced so far
 * @param settled water of the pours that have ended (g)
 * @param lastBase level from which the last pour is counted (g)
 * @param lastStop when the last announced pour ended (s); negative infinity before
 * @param endSaid whether the end of the last pour has been announced; it is not said twice
 * @param placed what was put on the rig since the first pour and is still there (g)
 */
record Ledger(
    int pours, double settled, double lastBase, double lastStop, boolean endSaid, double placed) {
  static final Ledger EMPTY = new Ledger(0, 0, 0, Double.NEGATIVE_INFINITY, false, 0);

  Ledger started() {
    return new Ledger(pours + 1, settled, lastBase, lastStop, false, placed);
  }

  Ledger stopped(double base, double stop, double water) {
    return new Ledger(pours, settled + water, base, stop, true, placed);
  }

  /** The last pour goes on: its {@code water} is no longer settled. */
  Ledger resumed(double water) {
    return new Ledger(pours, settled - water, lastBase, lastStop, endSaid, placed);
  }

  /** The display moved by {@code change} without water: levels kept from before move along. */
  Ledger shifted(double change) {
    return new Ledger(pours, settled, lastBase + change, lastStop, endSaid, placed);
  }

  Ledger placed(double grams) {
    return new Ledger(
        pours, settled, lastBase + grams, lastStop, endSaid, Math.max(0, placed + grams));
  }
}
