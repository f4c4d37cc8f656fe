package pourwright.journal;

import java.time.Instant;
import java.util.Map;

/**
 * What one taster thought of a cup.
 *
 * @param id 0 for one that is not in the journal yet
 * @param scores from 0 to {@value #MOST_POINTS}; items may be left out, but not all
 */
public record Tasting(
    long id, Instant at, String taster, Map<TasteItem, Double> scores, String note) {
  /** The best score. */
  public static final int MOST_POINTS = 10;

  public Tasting {
    scores = Map.copyOf(scores);
    if (scores.isEmpty()) {
      throw new IllegalArgumentException("a tasting needs at least one score");
    }
    scores.forEach(
        (item, points) -> {
          if (!(points >= 0 && points <= MOST_POINTS)) {
            throw new IllegalArgumentException(
                "a score must be 0 to " + MOST_POINTS + ", not " + points + " for " + item.word());
          }
        });
  }
}
