package pourwright.session;

import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import pourwright.units.Mass;

/**
 * What the brewer adds to one lane of a finished run.
 *
 * @param lane from 1
 * @param strengthPercent dissolved solids as measured (% by mass of the beverage)
 * @param note in the brewer's own words
 * @param estimates the brewer's guesses of what was poured, by pour from 1
 */
public record Afterword(
    int lane, OptionalDouble strengthPercent, Optional<String> note, Map<Integer, Mass> estimates) {
  public Afterword {
    estimates = Map.copyOf(estimates);
  }
}
