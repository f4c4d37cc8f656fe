package pourwright.device.replay;

import java.io.BufferedInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import pourwright.recording.BadRecording;
import pourwright.recording.RawStreamReader;
import pourwright.recording.Recordings;
import pourwright.recording.Trace;
import pourwright.recording.TraceCsv;
import pourwright.rig.Place;
import pourwright.rig.Rig;

/**
 * A recording that is ready to be played.
 *
 * @param profile what its bytes are read with; empty for a raw stream that does not say
 * @param rig where the file tells it
 * @param places what was weighed; a raw stream is one place, and empty when it does not say
 * @param notes plain sentences about what was passed over in the file
 */
public record Replay(
    PlayedTransport transport,
    Optional<String> profile,
    Optional<Rig> rig,
    Set<Place> places,
    List<String> notes) {

  public Replay {
    places = Set.copyOf(places);
    notes = List.copyOf(notes);
  }

  /**
   * Opens a trace or a raw stream, whichever it is.
   *
   * @param place which scale of a trace to play; also the place of a trace that names none
   * @param speed times as fast as it was; 0 as fast as it is taken
   * @throws BadRecording when it is no recording, or has no weights of that place
   * @throws IOException when the disk fails
   */
  public static Replay open(Path file, Place place, double speed) throws IOException {
    InputStream in = new BufferedInputStream(Recordings.open(file), 1 << 16);
    try {
      if (Recordings.looksRaw(in)) {
        return ofStream(RawStreamReader.of(in, file.toString()), speed);
      }
    } catch (IOException | RuntimeException e) {
      in.close();
      throw e;
    }
    try (in) {
      return ofTrace(TraceCsv.read(in, file.toString(), place), file.toString(), place, speed);
    }
  }

  private static Replay ofStream(RawStreamReader reader, double speed) {
    return new Replay(
        new PlayedTransport(new RecordedStream(reader), speed),
        reader.findHeader("profile"),
        reader.findHeader("rig").flatMap(Rig::findByWord),
        reader.findHeader("place").flatMap(Place::findByWord).map(Set::of).orElse(Set.of()),
        reader.notes());
  }

  private static Replay ofTrace(TraceCsv.ReadTrace read, String name, Place place, double speed)
      throws BadRecording {
    Trace all = read.trace();
    Trace played = all.only(place);
    if (played.size() == 0) {
      throw new BadRecording(name + ": has no weights of the scale " + place.word());
    }
    SpokenTrace spoken = new SpokenTrace(played);
    Optional<Rig> rig = all.places().size() > 1 ? Optional.of(Rig.SPLIT) : Optional.empty();
    return new Replay(
        new PlayedTransport(spoken, speed),
        Optional.of(spoken.profile()),
        rig,
        all.places(),
        read.notes());
  }
}
