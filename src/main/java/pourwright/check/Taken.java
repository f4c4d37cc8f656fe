package pourwright.check;

import java.util.OptionalDouble;
import pourwright.performance.Plateau;
import pourwright.performance.Series;

/**
 * One step that was done as asked and measured.
 *
 * @param index of the ask in the programme
 * @param before the weight before it
 * @param after the weight after it; of a wait, over the whole wait
 * @param readings of the change, or of the slow water
 * @param beat when the brewer was told to move (s)
 * @param isClean whether it was done in one go, so that the change tells how the display follows
 */
public record Taken(
    int index,
    Ask ask,
    Plateau before,
    Plateau after,
    Series readings,
    OptionalDouble beat,
    boolean isClean) {

  /** What it added (g); negative for taking off. */
  public double change() {
    return after.grams() - before.grams();
  }
}
