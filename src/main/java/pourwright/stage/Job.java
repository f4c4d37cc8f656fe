package pourwright.stage;

import pourwright.units.Mass;

/**
 * One thing the hands must do, at one place, without a break.
 *
 * @param id position in the list of jobs, from 0
 * @param station index of the brewer, {@link #NO_STATION} away from all of them
 * @param pour index of the pour in its plan from 1; 0 when it is none
 * @param seconds hands busy, at least 1
 * @param water it takes from the kettle
 * @param words for the card
 */
public record Job(
    int id, Chore chore, int station, int pour, int seconds, Mass water, String words) {
  public static final int NO_STATION = -1;

  /** Water it takes from the kettle, rounded up (g). */
  public int grams() {
    return (int) Math.ceil(water.grams());
  }
}
