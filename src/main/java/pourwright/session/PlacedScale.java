package pourwright.session;

import pourwright.device.Decoder;
import pourwright.device.ScaleCommands;
import pourwright.device.Transport;

/**
 * A scale that is ready to be listened to, and where it stands.
 *
 * @param address as the brewer named it
 * @param profile how it is read
 * @param isPlayed whether its times come from a recording or a simulation instead of a clock; what
 *     it says then waits until the rehearsal has taken it
 */
public record PlacedScale(
    Stand stand,
    String address,
    String profile,
    boolean isPlayed,
    Transport transport,
    Decoder decoder,
    ScaleCommands commands) {

  /** The same scale under another rig. */
  PlacedScale at(Stand other) {
    return new PlacedScale(other, address, profile, isPlayed, transport, decoder, commands);
  }
}
