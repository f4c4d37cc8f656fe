package pourwright.device.protocol;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import pourwright.device.Bytes;
import pourwright.device.Chunk;
import pourwright.device.Decoder;
import pourwright.device.Decoder.Decoded;
import pourwright.device.catalogue.Profiles;
import pourwright.units.SessionTime;

/** Feeds decoders in tests. */
final class Wire {
  static final SessionTime NOON = SessionTime.ofMillis(40);

  private Wire() {}

  static Profile shipped(String name) {
    return Profiles.shipped().find(name).orElseThrow();
  }

  static Profile profile(String... lines) {
    try {
      return ProfileReader.read(
          "format: 1\nname: under-test\nabout: under test\n" + String.join("\n", lines) + "\n",
          "test.yaml");
    } catch (InvalidProfileException e) {
      throw new AssertionError(e);
    }
  }

  static byte[] latin(String text) {
    return text.getBytes(StandardCharsets.ISO_8859_1);
  }

  static List<Decoded> feed(Decoder decoder, String text) {
    return feed(decoder, latin(text));
  }

  static List<Decoded> feed(Decoder decoder, byte[] bytes) {
    return decoder.feed(new Chunk(NOON, Bytes.copyOf(bytes)));
  }

  /** What one line comes to, in a stream whose beginning is known. */
  static Decoded line(Profile profile, String line) {
    Decoder decoder = profile.newDecoder();
    assertThat(feed(decoder, "\n")).isEmpty();
    List<Decoded> decoded = feed(decoder, line + "\r\n");
    assertThat(decoded).as(line).hasSize(1);
    return decoded.get(0);
  }

  /** As one word: the mass, {@code over}, {@code under}, {@code told} or the fault. */
  static String outcome(Decoded decoded) {
    if (decoded instanceof Decoded.Weighed weighed) {
      return weighed.reading().mass().toString();
    }
    if (decoded instanceof Decoded.OutOfRange range) {
      return range.over() ? "over" : "under";
    }
    return decoded instanceof Decoded.Junk junk ? junk.why() : "told";
  }

  static List<String> outcomes(List<Decoded> decoded) {
    return decoded.stream().map(Wire::outcome).toList();
  }

  /** The same bytes in pieces of random length. */
  static List<Decoded> cut(Decoder decoder, byte[] bytes, SplittableRandom random) {
    List<Decoded> all = new ArrayList<>();
    for (int from = 0; from < bytes.length; ) {
      int to = Math.min(bytes.length, from + random.nextInt(1, 30));
      all.addAll(decoder.feed(new Chunk(NOON, Bytes.copyOf(bytes, from, to))));
      from = to;
    }
    return all;
  }
}
