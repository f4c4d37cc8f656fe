package pourwright.device;

import java.util.Optional;
import pourwright.device.LineSettings.FlowControl;
import pourwright.device.LineSettings.Parity;

/**
 * The parts of the line settings that an address states itself; the rest is the profile's.
 *
 * @param baud bits per second
 * @param dataBits 5 to 8
 * @param stopBits 1 or 2
 */
public record LineChange(
    Optional<Integer> baud,
    Optional<Integer> dataBits,
    Optional<Parity> parity,
    Optional<Integer> stopBits,
    Optional<FlowControl> flowControl) {
  public static final LineChange NONE =
      new LineChange(
          Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty());

  /** {@code settings} with the stated parts replaced. */
  public LineSettings appliedTo(LineSettings settings) {
    return new LineSettings(
        baud.orElse(settings.baud()),
        dataBits.orElse(settings.dataBits()),
        parity.orElse(settings.parity()),
        stopBits.orElse(settings.stopBits()),
        flowControl.orElse(settings.flowControl()));
  }
}
