package pourwright.sample;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import pourwright.device.Decoder;
import pourwright.device.Decoder.Decoded;
import pourwright.device.Transport.Arrival;
import pourwright.device.catalogue.Profiles;
import pourwright.device.protocol.Profile;
import pourwright.recording.RawStreamReader;
import pourwright.rig.Place;
import pourwright.rig.Rig;

/** Holds the files in {@code sample-streams} to what their README says of them. */
class SampleStreamsTest {
  private static final Path FOLDER = Path.of("sample-streams");
  private static final long GREATEST_BYTES = 200_000;

  static List<String> names() throws IOException {
    try (Stream<Path> files = Files.list(FOLDER)) {
      return files
          .map(file -> file.getFileName().toString())
          .filter(name -> name.endsWith(".stream"))
          .sorted()
          .toList();
    }
  }

  /** What a file turns out to hold. */
  private record Content(
      String profile, String rig, String place, int weights, int ranges, int junk, double last) {

    static Content of(String name) throws IOException {
      try (RawStreamReader reader = RawStreamReader.open(FOLDER.resolve(name))) {
        String profile = reader.findHeader("profile").orElseThrow();
        Decoder decoder = Profiles.shipped().find(profile).orElseThrow().newDecoder();
        List<Decoded> decoded = new ArrayList<>();
        for (Optional<Arrival> next = reader.next(); next.isPresent(); next = reader.next()) {
          if (next.get() instanceof Arrival.Received received) {
            decoded.addAll(decoder.feed(received.chunk()));
          }
        }
        List<Decoded.Weighed> weights =
            decoded.stream()
                .filter(Decoded.Weighed.class::isInstance)
                .map(Decoded.Weighed.class::cast)
                .toList();
        return new Content(
            profile,
            reader.findHeader("rig").orElseThrow(),
            reader.findHeader("place").orElseThrow(),
            weights.size(),
            count(decoded, Decoded.OutOfRange.class),
            count(decoded, Decoded.Junk.class),
            weights.get(weights.size() - 1).reading().mass().grams());
      }
    }

    private static int count(List<Decoded> decoded, Class<? extends Decoded> kind) {
      return (int) decoded.stream().filter(kind::isInstance).count();
    }

    String row() {
      return String.format(
          Locale.ROOT,
          "%s | %s | %s | %d | %d | %d | %.1f g |",
          profile,
          rig,
          place,
          weights,
          ranges,
          junk,
          last);
    }
  }

  @ParameterizedTest
  @MethodSource("names")
  void a_stream_holds_what_the_readme_says(String name) throws IOException {
    List<String> rows =
        Files.readAllLines(FOLDER.resolve("README.md")).stream()
            .filter(line -> line.startsWith("| [" + name + "]"))
            .toList();
    assertThat(rows).as("the row for " + name + ": " + Content.of(name).row()).hasSize(1);
    assertThat(rows.get(0)).endsWith("| " + Content.of(name).row());
  }

  @ParameterizedTest
  @MethodSource("names")
  void a_stream_is_short_and_says_where_it_comes_from(String name) throws IOException {
    assertThat(Files.size(FOLDER.resolve(name))).isLessThan(GREATEST_BYTES);
    try (RawStreamReader reader = RawStreamReader.open(FOLDER.resolve(name))) {
      assertThat(reader.findHeader("note")).get().asString().startsWith("simulated, seed ");
      assertThat(reader.findHeader("truth")).get().asString().contains(" g ", "lift");
    }
  }

  @Test
  void every_profile_and_every_rig_and_place_has_a_stream() throws IOException {
    List<Content> all = new ArrayList<>();
    for (String name : names()) {
      all.add(Content.of(name));
    }
    assertThat(all).hasSizeGreaterThanOrEqualTo(10);
    assertThat(all)
        .extracting(Content::profile)
        .containsAll(Profiles.shipped().list().stream().map(Profile::name).toList());
    assertThat(all)
        .extracting(Content::rig)
        .containsAll(Stream.of(Rig.values()).map(Rig::word).toList());
    assertThat(all)
        .extracting(Content::place)
        .containsAll(Stream.of(Place.values()).map(Place::word).toList());
    assertThat(all).anyMatch(content -> content.ranges() > 0).anyMatch(one -> one.junk() > 5);
  }
}
