package pourwright.cli;

import java.io.BufferedInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;
import pourwright.detect.Curve;
import pourwright.device.Decoder;
import pourwright.device.Decoder.Decoded;
import pourwright.device.Transport.Arrival;
import pourwright.device.catalogue.Profiles;
import pourwright.device.protocol.Profile;
import pourwright.recording.BadRecording;
import pourwright.recording.RawStreamReader;
import pourwright.recording.Recordings;
import pourwright.recording.TraceCsv;
import pourwright.rig.Place;
import pourwright.rig.Rig;

/**
 * Everything weighed in one recording.
 *
 * @param rig as the file tells it: by its header, or by the scales that are in it
 * @param curves one per place that has weights
 * @param notes plain sentences about what was passed over in the file
 */
record Recorded(Rig rig, Map<Place, Curve> curves, List<String> notes) {
  private static final String STDIN = "-";

  /**
   * Reads a trace or a raw stream, whichever it is; {@code -} reads standard input.
   *
   * @param asked the rig the brewer named, or that of the plan
   * @param profiles asked for only when a raw stream needs one
   */
  static Recorded read(
      String name, Optional<Rig> asked, InputStream stdin, Supplier<Profiles> profiles)
      throws Failure {
    try {
      if (name.equals(STDIN)) {
        return read(new BufferedInputStream(stdin), "standard input", asked, profiles);
      }
      try (InputStream in = new BufferedInputStream(Recordings.open(Path.of(name)), 1 << 16)) {
        return read(in, name, asked, profiles);
      }
    } catch (BadRecording bad) {
      throw new Failure(String.valueOf(bad.getMessage()), bad);
    } catch (IOException failed) {
      throw Failure.of(name, failed);
    }
  }

  private static Recorded read(
      InputStream in, String name, Optional<Rig> asked, Supplier<Profiles> profiles)
      throws IOException, Failure {
    return Recordings.looksRaw(in)
        ? readRaw(in, name, asked, profiles)
        : readTrace(in, name, asked);
  }

  private static Recorded readTrace(InputStream in, String name, Optional<Rig> asked)
      throws IOException {
    Place otherwise = asked.filter(Rig.SERVER::equals).isPresent() ? Place.SERVER : Place.WHOLE;
    Map<Place, Curve> curves = new EnumMap<>(Place.class);
    TraceCsv.Told told =
        TraceCsv.scan(
            in,
            name,
            otherwise,
            (at, mass, stability, place) ->
                curves.computeIfAbsent(place, Curve::new).add(at, mass));
    return new Recorded(asked.orElseGet(() -> rigOf(curves)), curves, told.notes());
  }

  private static Rig rigOf(Map<Place, Curve> curves) {
    if (!curves.containsKey(Place.WHOLE)) {
      return Rig.SERVER;
    }
    return curves.containsKey(Place.SERVER) ? Rig.SPLIT : Rig.WHOLE;
  }

  /** One raw stream is one scale; its headers say which, and how to read it. */
  private static Recorded readRaw(
      InputStream in, String name, Optional<Rig> asked, Supplier<Profiles> profiles)
      throws IOException, Failure {
    try (RawStreamReader stream = RawStreamReader.of(in, name)) {
      Optional<String> profile = stream.findHeader("profile");
      if (profile.isEmpty()) {
        throw new Failure(
            name + ": does not say how to read it; add a first line such as #profile: bare-number");
      }
      Decoder decoder =
          profiles
              .get()
              .find(profile.get())
              .map(Profile::newDecoder)
              .orElseThrow(
                  () -> new Failure(name + ": there is no profile called " + profile.get()));
      Rig rig = asked.or(() -> stream.findHeader("rig").flatMap(Rig::findByWord)).orElse(Rig.WHOLE);
      Place place =
          stream
              .findHeader("place")
              .flatMap(Place::findByWord)
              .orElse(rig == Rig.SERVER ? Place.SERVER : Place.WHOLE);
      Curve curve = new Curve(place);
      long junk = 0;
      // Whoever begins to listen may cut the first line in two; that is no fault of the recording.
      boolean mayBeCut = true;
      for (Optional<Arrival> next = stream.next(); next.isPresent(); next = stream.next()) {
        if (next.get() instanceof Arrival.Received received) {
          for (Decoded decoded : decoder.feed(received.chunk())) {
            if (decoded instanceof Decoded.Weighed weighed) {
              curve.add(weighed.reading().at().nanos(), weighed.reading().mass().nanograms());
              mayBeCut = false;
            } else if (decoded instanceof Decoded.Junk) {
              junk += mayBeCut ? 0 : 1;
              mayBeCut = false;
            }
          }
        } else if (next.get() instanceof Arrival.Lost) {
          decoder.reset();
          mayBeCut = true;
        }
      }
      if (curve.size() == 0) {
        throw new Failure(name + ": holds no weight that profile " + profile.get() + " can read");
      }
      List<String> notes = new ArrayList<>(stream.notes());
      if (junk > 0) {
        notes.add(
            name
                + (junk == 1
                    ? ": once bytes came that were no weight; they were passed over"
                    : ": bytes that were no weight came "
                        + junk
                        + " times; they were passed over"));
      }
      return new Recorded(rig, Map.of(place, curve), notes);
    }
  }

  /**
   * The curves of a rig, in the order of its places.
   *
   * @throws Failure when a scale of it is not in the recording
   */
  List<Curve> curvesOf(Rig wanted, String name) throws Failure {
    List<Curve> found = new ArrayList<>();
    for (Place place : wanted.places()) {
      Curve curve = curves.get(place);
      if (curve == null) {
        throw new Failure(
            name
                + ": holds no weights of the scale under the "
                + (place == Place.SERVER ? "server" : "whole rig")
                + ", which rig "
                + wanted.word()
                + " needs; see --rig");
      }
      found.add(curve);
    }
    return found;
  }
}
