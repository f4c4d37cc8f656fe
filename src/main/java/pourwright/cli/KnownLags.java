package pourwright.cli;

import java.util.Locale;
import java.util.OptionalDouble;
import java.util.function.Consumer;
import pourwright.check.CheckRecord;
import pourwright.detect.DetectorSettings;
import pourwright.history.ScaleHistory;
import pourwright.session.PlacedScale;

/** How far each scale's display runs behind: as the brewer says, else as its last check found. */
final class KnownLags {
  /** Slower scales cannot be poured by (s); own choice. */
  static final double MOST_SECONDS = 10;

  private final ScaleHistory history;
  private final OptionalDouble named;
  private final Consumer<String> note;

  /**
   * Lags for one run.
   *
   * @param named on the command line, for every scale (s)
   * @param note told where a lag comes from
   */
  KnownLags(ScaleHistory history, OptionalDouble named, Consumer<String> note) {
    this.history = history;
    this.named = named;
    this.note = note;
  }

  /** The settings, with the lag of this scale where it is known. */
  DetectorSettings into(DetectorSettings settings, PlacedScale scale) {
    if (named.isPresent()) {
      return settings.withLagSeconds(scale.stand().place(), named.getAsDouble());
    }
    return history
        .findLast(ScaleHistory.nameOf(scale.address(), scale.profile()))
        .map(check -> checked(settings, scale, check))
        .orElse(settings);
  }

  private DetectorSettings checked(
      DetectorSettings settings, PlacedScale scale, CheckRecord check) {
    OptionalDouble lag = check.lagSeconds();
    if (lag.isEmpty() || !(lag.getAsDouble() >= 0 && lag.getAsDouble() <= MOST_SECONDS)) {
      return settings;
    }
    note.accept(
        String.format(
            Locale.ROOT,
            "%s: its display runs %.2f s behind, as checked on %s",
            scale.address(),
            lag.getAsDouble(),
            check.at().toString().substring(0, 10)));
    return settings.withLagSeconds(scale.stand().place(), lag.getAsDouble());
  }
}
