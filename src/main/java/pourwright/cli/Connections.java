package pourwright.cli;

import java.io.IOException;
import java.util.Optional;
import pourwright.device.LineSettings;
import pourwright.device.ScaleAddress;
import pourwright.device.SessionClock;
import pourwright.device.catalogue.Profiles;
import pourwright.device.protocol.Profile;
import pourwright.device.serial.SerialTransport;
import pourwright.session.PlacedScale;
import pourwright.session.Stand;

/** Turns scale addresses into scales that can be listened to. */
final class Connections {
  private final Profiles profiles;
  private final SessionClock clock;

  /**
   * @param clock stamps what is heard live
   */
  Connections(Profiles profiles, SessionClock clock) {
    this.profiles = profiles;
    this.clock = clock;
  }

  Profile profile(String name) throws Failure {
    Optional<Profile> found = profiles.find(name);
    if (found.isEmpty()) {
      throw new Failure(
          "there is no profile called " + name + "; `pourwright scales` lists those there are");
    }
    return found.get();
  }

  /** Connects to the scale at {@code text}. */
  PlacedScale open(String text, ScaleAddress address, Stand stand) throws Failure {
    try {
      if (address instanceof ScaleAddress.Serial serial) {
        return serial(text, serial, stand);
      }
    } catch (IOException refused) {
      throw new Failure(String.valueOf(refused.getMessage()), refused);
    }
    throw new Failure(text + ": such scales cannot be listened to yet");
  }

  private PlacedScale serial(String text, ScaleAddress.Serial serial, Stand stand)
      throws IOException, Failure {
    Profile profile = profile(serial.profile());
    LineSettings line = serial.change().appliedTo(profile.link());
    return new PlacedScale(
        stand,
        text,
        profile.name(),
        false,
        SerialTransport.open(serial.port(), line, profile.commands().start(), clock),
        profile.newDecoder(),
        profile.commands());
  }
}
