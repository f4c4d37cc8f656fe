package pourwright.stage;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.chocosolver.solver.constraints.Propagator;
import org.chocosolver.solver.constraints.PropagatorPriority;
import org.chocosolver.solver.exception.ContradictionException;
import org.chocosolver.solver.variables.IntVar;
import org.chocosolver.util.ESat;

/**
 * Keeps the hands out of two places: two patterns of busy hands, each fixed in itself, must not lie
 * over each other, so their difference in time has forbidden stretches.
 *
 * <p>One such constraint says for a whole pair of brewers what would take a choice of order for
 * every pair of their jobs.
 */
final class Apart extends Propagator<IntVar> {
  private static final long serialVersionUID = 1L;

  /** A stretch of values that {@code x - y} must not take; both ends forbidden. */
  record Stretch(int from, int to) {}

  /** Busy hands, counted from the start of the pattern (s). */
  record Busy(Job job, int offset) {}

  private final transient IntVar x;
  private final transient IntVar y;
  private final transient List<Stretch> forbidden;

  Apart(IntVar x, IntVar y, List<Stretch> forbidden) {
    super(new IntVar[] {x, y}, PropagatorPriority.BINARY, false);
    this.x = x;
    this.y = y;
    this.forbidden = List.copyOf(forbidden);
  }

  /** Where the start of {@code one} must not lie, seen from the start of {@code other}. */
  static List<Stretch> forbidden(Work work, List<Busy> one, List<Busy> other) {
    List<Stretch> each = new ArrayList<>();
    for (Busy a : one) {
      for (Busy b : other) {
        int shift = b.offset() - a.offset();
        each.add(
            new Stretch(
                shift - a.job().seconds() - work.travel(a.job(), b.job()) + 1,
                shift + b.job().seconds() + work.travel(b.job(), a.job()) - 1));
      }
    }
    each.sort(Comparator.comparingInt(Stretch::from));
    List<Stretch> merged = new ArrayList<>();
    for (Stretch next : each) {
      int last = merged.size() - 1;
      if (last >= 0 && next.from() <= merged.get(last).to() + 1) {
        Stretch before = merged.get(last);
        merged.set(last, new Stretch(before.from(), Math.max(before.to(), next.to())));
      } else {
        merged.add(next);
      }
    }
    return merged;
  }

  @Override
  public void propagate(int changes) throws ContradictionException {
    boolean isNews = true;
    while (isNews) {
      isNews = false;
      for (Stretch stretch : forbidden) {
        // whatever y is, x - y would be in the stretch; then the same for y
        isNews |= remove(x, y.getUB() + stretch.from(), y.getLB() + stretch.to());
        isNews |= remove(y, x.getUB() - stretch.to(), x.getLB() - stretch.from());
      }
    }
  }

  private boolean remove(IntVar from, int low, int high) throws ContradictionException {
    return low <= high && from.removeInterval(low, high, this);
  }

  @Override
  public ESat isEntailed() {
    if (!x.isInstantiated() || !y.isInstantiated()) {
      return ESat.UNDEFINED;
    }
    int difference = x.getValue() - y.getValue();
    return ESat.eval(
        forbidden.stream().noneMatch(s -> s.from() <= difference && difference <= s.to()));
  }
}
