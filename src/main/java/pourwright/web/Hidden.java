package pourwright.web;

import java.util.Map;
import pourwright.units.Mass;

/**
 * Which pours of a blind run may be shown: those for which the brewer has given an estimate.
 *
 * @param isOn whether anything is hidden at all
 * @param estimates by lane and pour
 */
record Hidden(boolean isOn, Map<Integer, Map<Integer, Mass>> estimates) {

  boolean hides(int lane, int pour) {
    return isOn && !estimates.getOrDefault(lane, Map.of()).containsKey(pour);
  }
}
