package pourwright.check;

import java.util.List;
import pourwright.performance.Series;

/**
 * All that a check measured.
 *
 * @param taken the steps that were done, in order
 * @param readings all of the check
 * @param losses how often the scale was gone
 * @param disturbances how often something was touched, wrong or restless
 */
public record Measured(
    Programme programme, List<Taken> taken, Series readings, int losses, int disturbances) {

  public Measured {
    taken = List.copyOf(taken);
  }

  /** Whether every step was done. */
  public boolean isWhole() {
    return taken.size() == programme.asks().size();
  }

  List<Taken> of(Part part) {
    return taken.stream().filter(one -> one.ask().part() == part).toList();
  }
}
