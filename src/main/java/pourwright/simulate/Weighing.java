package pourwright.simulate;

import pourwright.reading.Stability;
import pourwright.rig.Place;
import pourwright.rig.Rig;

/** Simulated scales, reading by reading. */
public interface Weighing {
  Rig rig();

  /**
   * Goes on to the next reading of any of the scales.
   *
   * @return false when the run is over; there is no reading then
   */
  boolean advance();

  /**
   * When the present reading came up its link (ns since the start); readings of a burst share it.
   */
  long nanos();

  /** The present reading (ng), signed. */
  long nanograms();

  Stability stability();

  /** Which scale the present reading is from. */
  Place place();

  /** Presses the tare key of a scale. */
  void tare(Place place);
}
