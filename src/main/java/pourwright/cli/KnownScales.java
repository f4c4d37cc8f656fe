package pourwright.cli;

import java.util.Locale;
import java.util.OptionalDouble;
import java.util.function.Consumer;
import pourwright.check.CheckRecord;
import pourwright.detect.DetectorSettings;
import pourwright.history.ScaleHistory;
import pourwright.session.PlacedScale;
import pourwright.session.RunStart;

/**
 * What is known of each scale beforehand: how far its display runs behind, as the brewer says, else
 * as its last check found; and the noise that check found.
 */
final class KnownScales {
  /** Slower scales cannot be poured by (s); own choice. */
  static final double MOST_LAG_SECONDS = 10;

  private static final double MOST_NOISE_GRAMS = 10;

  private final ScaleHistory history;
  private final OptionalDouble named;
  private final Consumer<String> note;

  /**
   * For one run.
   *
   * @param named on the command line, for every scale (s)
   * @param note told where a lag comes from
   */
  KnownScales(ScaleHistory history, OptionalDouble named, Consumer<String> note) {
    this.history = history;
    this.named = named;
    this.note = note;
  }

  /** The settings, with what is known of this scale. */
  DetectorSettings into(DetectorSettings settings, PlacedScale scale) {
    DetectorSettings checked =
        history
            .findLast(ScaleHistory.nameOf(scale.address(), scale.profile()))
            .map(check -> checked(settings, scale, check))
            .orElse(settings);
    return named.isPresent()
        ? checked.withLagSeconds(scale.stand().place(), named.getAsDouble())
        : checked;
  }

  /** The settings, with what was known of the scale of a kept run. */
  static DetectorSettings into(DetectorSettings settings, RunStart.HeardScale scale) {
    DetectorSettings known = settings;
    OptionalDouble noise = within(scale.noiseGrams(), MOST_NOISE_GRAMS);
    if (noise.isPresent()) {
      known = known.withNoiseGrams(scale.stand().place(), noise.getAsDouble());
    }
    OptionalDouble lag = within(scale.lagSeconds(), MOST_LAG_SECONDS);
    return lag.isPresent() ? known.withLagSeconds(scale.stand().place(), lag.getAsDouble()) : known;
  }

  private DetectorSettings checked(
      DetectorSettings settings, PlacedScale scale, CheckRecord check) {
    DetectorSettings known = settings;
    OptionalDouble noise = within(check.noiseGrams(), MOST_NOISE_GRAMS);
    if (noise.isPresent()) {
      known = known.withNoiseGrams(scale.stand().place(), noise.getAsDouble());
    }
    OptionalDouble lag = within(check.lagSeconds(), MOST_LAG_SECONDS);
    if (lag.isPresent() && named.isEmpty()) {
      known = known.withLagSeconds(scale.stand().place(), lag.getAsDouble());
      note.accept(
          String.format(
              Locale.ROOT,
              "%s: its display runs %.2f s behind, as checked on %s",
              scale.address(),
              lag.getAsDouble(),
              check.at().toString().substring(0, 10)));
    }
    return known;
  }

  /** A kept file may have been written by anybody. */
  private static OptionalDouble within(OptionalDouble value, double most) {
    return value.isPresent() && value.getAsDouble() >= 0 && value.getAsDouble() <= most
        ? value
        : OptionalDouble.empty();
  }
}
