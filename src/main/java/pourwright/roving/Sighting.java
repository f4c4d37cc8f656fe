package pourwright.roving;

import pourwright.reading.Reading;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/** What a reading of the moved scale means. */
public sealed interface Sighting {

  /**
   * The scale weighs a rig.
   *
   * @param reading as if the scale had never been away from it
   */
  record Weighed(int lane, Reading reading) implements Sighting {}

  /** The scale is no longer under this rig; what happens there is not seen. */
  record Left(int lane, SessionTime at) implements Sighting {}

  /**
   * The scale stands under this rig.
   *
   * @param isExpected whether the timetable has it there now
   * @param unexplained by how much the rig is heavier than when the scale left it; zero at its
   *     first stay, and where that cannot be told
   */
  record Stands(int lane, SessionTime at, boolean isExpected, Mass unexplained)
      implements Sighting {}
}
