package pourwright.device.catalogue;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import pourwright.device.Bytes;
import pourwright.device.Chunk;
import pourwright.device.Decoder;
import pourwright.device.Decoder.Decoded;
import pourwright.device.protocol.Encoder;
import pourwright.device.protocol.Profile;
import pourwright.reading.Stability;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

class ProfilesTest {
  static List<Profile> shipped() {
    return Profiles.shipped().list();
  }

  @Test
  void every_profile_file_that_ships_is_listed_under_its_own_name() throws IOException {
    try (Stream<Path> files = Files.list(Path.of("src/main/resources/pourwright/profiles"))) {
      assertThat(shipped())
          .extracting(profile -> profile.name() + ".yaml")
          .containsExactlyInAnyOrderElementsOf(
              files.map(file -> file.getFileName().toString()).toList());
    }
  }

  @ParameterizedTest
  @MethodSource("shipped")
  void what_a_profile_writes_it_reads(Profile profile) {
    Encoder encoder = profile.newEncoder();
    Decoder decoder = profile.newDecoder();
    SessionTime at = SessionTime.ofMillis(40);
    // The first line of a text stream is not believed.
    decoder.feed(new Chunk(at, encoder.weight(Mass.ZERO, Stability.STABLE)));
    for (long tenths : new long[] {0, 1, -1, 123, -4567, 99_999}) {
      Mass mass = Mass.ofMilligrams(tenths * 100);
      if (profile.name().equals("control-frame") && tenths == 99_999) {
        continue; // no room in seven characters with two decimals
      }
      if (profile.name().equals("ble-weight-scale") && tenths != 0) {
        continue; // steps of 5 g, nothing below zero
      }
      Bytes said = encoder.weight(mass, Stability.MOVING);
      assertThat(decoder.feed(new Chunk(at, said)))
          .as(said.toString())
          .filteredOn(Decoded.Weighed.class::isInstance)
          .singleElement()
          .extracting(one -> ((Decoded.Weighed) one).reading().mass())
          .isEqualTo(mass);
    }
    for (boolean over : new boolean[] {true, false}) {
      encoder
          .outOfRange(over)
          .ifPresent(
              said ->
                  assertThat(decoder.feed(new Chunk(at, said)))
                      .containsExactly(new Decoded.OutOfRange(at, over)));
    }
  }

  @Test
  void a_user_profile_of_a_shipped_name_is_used_instead_and_a_broken_one_is_told(
      @TempDir Path folder) throws IOException {
    Files.writeString(
        folder.resolve("mine.yaml"),
        "format: 1\nname: bare-number\nabout: kilograms\ntext: {pattern: '{number}', unit: kg}\n");
    Files.writeString(folder.resolve("broken.yaml"), "format: 1\nname: Bad Name\n");
    Files.writeString(folder.resolve("notes.txt"), "no profile");

    Profiles profiles = Profiles.with(folder);

    assertThat(profiles.find("bare-number").orElseThrow().about()).isEqualTo("kilograms");
    assertThat(profiles.list()).hasSameSizeAs(shipped());
    assertThat(profiles.problems())
        .singleElement()
        .asString()
        .contains("broken.yaml:2:7", "small letters, digits and hyphens");
  }

  @Test
  void a_missing_folder_leaves_the_shipped_ones(@TempDir Path folder) {
    assertThat(Profiles.with(folder.resolve("none")).list()).hasSameSizeAs(shipped());
  }
}
