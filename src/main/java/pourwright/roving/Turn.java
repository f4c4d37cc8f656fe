package pourwright.roving;

import pourwright.units.Mass;

/**
 * One stay of the scale under a rig, as the timetable has it.
 *
 * @param lane whose rig, from 1
 * @param pours in this stay
 * @param water of all of them
 * @param lastPour water of its last pour
 */
public record Turn(int lane, int pours, Mass water, Mass lastPour) {
  public Turn {
    if (lane < 1 || pours < 1) {
      throw new IllegalArgumentException("lanes and pours count from 1");
    }
    if (lastPour.isNegative() || lastPour.compareTo(water) > 0) {
      throw new IllegalArgumentException("the last pour of " + lastPour + " is part of " + water);
    }
  }
}
