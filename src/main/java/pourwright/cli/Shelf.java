package pourwright.cli;

import java.util.Map;
import java.util.function.Supplier;
import pourwright.device.Decoder;

/** The profiles that are at hand. */
final class Shelf {
  private static final Map<String, Supplier<Decoder>> DECODERS = Map.of();

  private Shelf() {}

  static Decoder decoderOf(String profile) throws Failure {
    Supplier<Decoder> decoder = DECODERS.get(profile);
    if (decoder == null) {
      throw new Failure("there is no profile called " + profile);
    }
    return decoder.get();
  }
}
