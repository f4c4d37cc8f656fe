package pourwright.journal;

import java.time.Instant;
import java.util.OptionalDouble;

/**
 * One reading of the strength of a cup.
 *
 * @param id 0 for one that is not in the journal yet
 * @param percent dissolved solids (% by mass of the beverage), above 0 and below 100
 * @param uncertaintyPercent standard uncertainty of the instrument (percentage points), where known
 * @param instrument in the brewer's own words; may be empty
 */
public record StrengthReading(
    long id, Instant at, double percent, OptionalDouble uncertaintyPercent, String instrument) {
  public StrengthReading {
    if (!(percent > 0 && percent < 100)) {
      throw new IllegalArgumentException("a strength must be above 0 and below 100 %");
    }
    if (uncertaintyPercent.isPresent()
        && !(uncertaintyPercent.getAsDouble() >= 0 && uncertaintyPercent.getAsDouble() < 100)) {
      throw new IllegalArgumentException("an uncertainty must be at least 0 and below 100 %");
    }
  }
}
