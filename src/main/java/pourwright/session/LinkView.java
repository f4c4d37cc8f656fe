package pourwright.session;

import java.util.Optional;
import java.util.OptionalInt;
import pourwright.reading.Stability;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * How one scale is heard; an immutable snapshot.
 *
 * @param address as the brewer named it, such as {@code serial:/dev/ttyUSB0}
 * @param profile how it is read
 * @param heard whether any weight has come at all
 * @param showing the newest weight
 * @param stability the scale's own word on it
 * @param outOfRange whether the scale now says that it cannot weigh what is on it
 * @param readingsPerSecond over the last seconds (1/s); 0 when nothing comes
 * @param losses how often the link was lost in this run
 * @param junk runs of bytes so far that were no frame of the profile
 * @param batteryPercent 0 to 100, where the scale tells it
 * @param loss the present loss; empty while the link holds
 * @param away whether the scale is under another rig now, or on its way
 */
public record LinkView(
    Stand stand,
    String address,
    String profile,
    boolean heard,
    Optional<Mass> showing,
    Stability stability,
    boolean outOfRange,
    double readingsPerSecond,
    int losses,
    long junk,
    OptionalInt batteryPercent,
    Optional<Loss> loss,
    boolean away) {

  /**
   * The scale is not heard.
   *
   * @param why one plain sentence: what happened and what to do
   */
  public record Loss(SessionTime since, String why) {}
}
