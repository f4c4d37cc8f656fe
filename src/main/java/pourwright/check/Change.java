package pourwright.check;

import java.util.ArrayList;
import java.util.List;
import pourwright.performance.Estimate;

/**
 * One figure then and now.
 *
 * @param isReal whether it changed by more than both intervals together explain
 */
public record Change(Figure before, Figure now, boolean isReal) {
  /** A rate of readings that differs by less is the same setting (share); own choice. */
  private static final double SAME_RATE = 0.02;

  /** Every figure that both checks have, in the order of the newer. */
  public static List<Change> between(CheckRecord before, CheckRecord now) {
    List<Change> changes = new ArrayList<>();
    for (Figure figure : now.figures()) {
      before
          .findFigure(figure.key())
          .ifPresent(old -> changes.add(new Change(old, figure, isReal(old, figure))));
    }
    return changes;
  }

  private static boolean isReal(Figure before, Figure now) {
    Estimate old = before.estimate();
    Estimate fresh = now.estimate();
    double apart = Math.abs(fresh.value() - old.value());
    if (now.key().equals("rate_per_s")) {
      return apart > SAME_RATE * Math.max(Math.abs(old.value()), Math.abs(fresh.value()));
    }
    double oldSide =
        fresh.value() > old.value() ? old.high() - old.value() : old.value() - old.low();
    double newSide =
        fresh.value() > old.value() ? fresh.value() - fresh.low() : fresh.high() - fresh.value();
    return apart > Math.hypot(oldSide, newSide) + 1e-9;
  }
}
