package pourwright.session;

import pourwright.rig.Place;

/**
 * Where one scale of a rehearsal stands.
 *
 * @param lane which brewer's rig, from 1
 * @param place what of that rig it weighs
 */
public record Stand(int lane, Place place) {
  /** For file names and messages: {@code 1-whole}. */
  public String word() {
    return lane + "-" + place.word();
  }
}
