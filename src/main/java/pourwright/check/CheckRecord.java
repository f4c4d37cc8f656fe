package pourwright.check;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * One check as it is kept.
 *
 * @param at when it began
 * @param scale address of the scale, without what changes from time to time
 * @param program name and version of the program
 * @param length word of its thoroughness
 * @param weights known weights that were used, with their source
 * @param isWhole whether every step was done
 */
public record CheckRecord(
    Instant at,
    String scale,
    String program,
    String length,
    List<String> weights,
    boolean isWhole,
    int losses,
    int disturbances,
    List<Figure> figures,
    List<String> notes) {

  public CheckRecord {
    weights = List.copyOf(weights);
    figures = List.copyOf(figures);
    notes = List.copyOf(notes);
  }

  public Optional<Figure> findFigure(String key) {
    return figures.stream().filter(figure -> figure.key().equals(key)).findFirst();
  }

  /** Noise of one reading at rest (g). */
  public OptionalDouble noiseGrams() {
    return findFigure("noise_g")
        .map(figure -> OptionalDouble.of(figure.estimate().value()))
        .orElse(OptionalDouble.empty());
  }

  /** By how much the display runs behind (s). */
  public OptionalDouble lagSeconds() {
    return findFigure("lag_s")
        .map(figure -> OptionalDouble.of(figure.estimate().value()))
        .orElse(OptionalDouble.empty());
  }
}
