package pourwright.compare;

import java.util.ArrayList;
import java.util.List;
import pourwright.compare.Alignment.Link;
import pourwright.plan.Schedule.Slot;
import pourwright.plan.Start;

/**
 * Lists every alignment there is and prices each as a whole, straight from the description in
 * {@link Alignment}: no dynamic programming, no shared code.
 */
final class Exhaustive {
  private final Routine routine;
  private final List<Slot> slots;
  private final List<MadePour> made;
  private double least = Double.POSITIVE_INFINITY;
  private double leastSoFar = Double.POSITIVE_INFINITY;

  Exhaustive(Routine routine) {
    this.routine = routine;
    slots = routine.schedule().slots();
    made = routine.made();
    list(0, 0, new ArrayList<>());
  }

  double least() {
    return least;
  }

  /** The least when planned pours at the end may be left out. */
  double leastSoFar() {
    return leastSoFar;
  }

  private void list(int i, int j, List<Link> soFar) {
    if (j == made.size()) {
      leastSoFar = Math.min(leastSoFar, costOf(soFar, 7.5));
      if (i == slots.size()) {
        least = Math.min(least, costOf(soFar, 4));
      }
    }
    for (int p = 0; p <= slots.size() - i; p++) {
      for (int q = 0; q <= made.size() - j; q++) {
        boolean gap = p + q == 1;
        boolean match = p >= 1 && q >= 1 && (p == 1 || q == 1);
        if (gap || match) {
          soFar.add(new Link(i + 1, i + p, j + 1, j + q));
          list(i + p, j + q, soFar);
          soFar.remove(soFar.size() - 1);
        }
      }
    }
  }

  double costOf(List<Link> links, double extra) {
    double cost = 0;
    Link previous = null;
    for (Link link : links) {
      boolean isMissed = link.lastMade() < link.firstMade();
      if (isMissed || link.lastPlanned() < link.firstPlanned()) {
        cost += isMissed ? 4 : extra;
        previous = null;
        continue;
      }
      double grams = 0;
      for (int i = link.firstPlanned(); i <= link.lastPlanned(); i++) {
        grams -= slots.get(i - 1).pour().add().grams();
      }
      for (int j = link.firstMade(); j <= link.lastMade(); j++) {
        grams += made.get(j - 1).poured().grams();
      }
      if (link.lastPlanned() > link.firstPlanned() && Math.abs(grams) > 8) {
        return Double.POSITIVE_INFINITY;
      }
      if (link.lastMade() > link.firstMade() && grams > 8) {
        return Double.POSITIVE_INFINITY;
      }
      int pieces =
          Math.max(link.lastPlanned() - link.firstPlanned(), link.lastMade() - link.firstMade());
      cost += Math.min(Math.abs(grams) / 2, 4) + 3 * pieces;
      cost += Math.min(startError(link, previous != null) / 2, 4);
      previous = link;
    }
    return cost;
  }

  private double startError(Link link, boolean afterMatch) {
    Slot slot = slots.get(link.firstPlanned() - 1);
    MadePour first = made.get(link.firstMade() - 1);
    double start = first.start().seconds();
    double due = made.get(0).start().seconds() - slots.get(0).start().seconds();
    due += slot.start().seconds();
    if (slot.pour().start() instanceof Start.WhenDrained && link.firstMade() > 1) {
      int before = made.get(link.firstMade() - 2).index();
      if (routine.drainedAfter().containsKey(before)) {
        due = routine.drainedAfter().get(before).seconds();
      }
    }
    if (!afterMatch) {
      return Math.abs(start - due);
    }
    double previousEnd = made.get(link.firstMade() - 2).end().seconds();
    if (slot.pour().start() instanceof Start.AfterEnd after) {
      due = previousEnd + after.gap().toNanos() / 1e9;
    }
    double pause = slot.start().seconds() - slots.get(link.firstPlanned() - 2).end().seconds();
    return Math.min(Math.abs(start - due), Math.abs(start - previousEnd - pause));
  }
}
