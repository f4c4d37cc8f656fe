package pourwright.device.protocol;

import java.util.Optional;
import pourwright.device.Bytes;
import pourwright.reading.Stability;
import pourwright.units.Mass;

/** Says weights in the bytes of one profile, as a scale of that kind would. */
public interface Encoder {
  /**
   * One whole line or frame.
   *
   * @param mass rounded half to even to the step this profile writes
   * @param stability left out where the profile has no place for it
   * @throws ArithmeticException when the profile has no room for so large a mass
   */
  Bytes weight(Mass mass, Stability stability);

  /** The line or frame of a scale that cannot weigh this, where the profile has one. */
  Optional<Bytes> outOfRange(boolean over);
}
