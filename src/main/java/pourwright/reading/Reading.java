package pourwright.reading;

import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * One weight as a scale said it.
 *
 * @param at when the bytes that completed it arrived; equal for readings of one burst
 * @param mass signed, as displayed by the scale (its own tare applied)
 * @param stability the scale's own opinion, where it has one
 */
public record Reading(SessionTime at, Mass mass, Stability stability) {
  /** A reading of a scale that does not say whether it has settled. */
  public Reading(SessionTime at, Mass mass) {
    this(at, mass, Stability.UNSTATED);
  }
}
