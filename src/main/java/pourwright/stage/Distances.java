package pourwright.stage;

import java.util.List;

/**
 * How far the first pours of the brewers may lie from each other, with every pour and lift at its
 * moment: which distances fit, and which are the least.
 */
final class Distances {
  private final Work work;
  private final Refilling refilling;
  private final int count;
  private final int reach;
  private final boolean isInOrder;

  /** {@code fitting[a][b]}: how long after b's first pour that of a may lie. */
  private final Seconds[][] fitting;

  /** Least distance of the first pours of two brewers, in order only (s). */
  private final int[][] span;

  /**
   * @param patterns of the brewers, each counted from its first pour
   * @param reach longest distance asked for (s)
   * @param isInOrder whether first pours come in the order of the brewers
   */
  Distances(
      Work work,
      Refilling refilling,
      List<List<Apart.Busy>> patterns,
      int reach,
      boolean isInOrder) {
    this.work = work;
    this.refilling = refilling;
    this.count = patterns.size();
    this.reach = reach;
    this.isInOrder = isInOrder;
    this.fitting = new Seconds[count][count];
    this.span = new int[count][count];
    for (int a = 0; a < count; a++) {
      for (int b = 0; b < count; b++) {
        fitting[a][b] = Seconds.within(reach);
        fitting[a][b].add(-reach, reach);
        for (Apart.Stretch stretch : Apart.forbidden(work, patterns.get(a), patterns.get(b))) {
          fitting[a][b].remove(stretch.from(), stretch.to());
        }
      }
    }
  }

  boolean isInOrder() {
    return isInOrder;
  }

  /** Distances from the first brewer while no other has its place. */
  Seconds[] open() {
    Seconds[] open = new Seconds[count];
    for (int station = 0; station < count; station++) {
      open[station] = Seconds.within(reach);
      open[station].add(station == 0 ? 0 : -reach, station == 0 ? 0 : reach);
    }
    return open;
  }

  /** The first pours of two brewers lie so far apart at least; 0 unless all come in order (s). */
  int span(int from, int to) {
    return span[from][to];
  }

  /**
   * Where the kettle lets the first pour of a brewer to come lie at the earliest; see {@link
   * Refilling#leastFirst}.
   */
  int byKettle(int[] distance, int known, int later) {
    return refilling.leastFirst(distance, known, later, span);
  }

  /** No brewer's first pour lies nearer to that of the first one (s). */
  int lowest(int station, int[] distance) {
    int low = -reach;
    for (int before = 0; isInOrder && before < station; before++) {
      low = Math.max(low, distance[before] + span[before][station]);
    }
    return low;
  }

  /** What is left for the brewers up to {@code to} once one has its distance. */
  Seconds[] narrowed(Seconds[] open, int station, int at, int to) {
    Seconds[] left = open.clone();
    for (int later = station + 1; later < to; later++) {
      left[later] = open[later].copy();
      left[later].retainLater(fitting[later][station], at);
    }
    return left;
  }

  /**
   * Finds the least spans of ever more neighbours, each with the help of the shorter ones; in order
   * only.
   */
  void findSpans(Patience until) {
    for (int size = 2; size <= count; size++) {
      for (int from = 0; from + size <= count; from++) {
        int to = from + size - 1;
        span[from][to] =
            from > 0 && work.areBrewersAlike() ? span[0][size - 1] : leastSpan(from, to, until);
      }
    }
  }

  private int leastSpan(int from, int to, Patience until) {
    int least = to == from + 1 ? work.pour(from, 1).seconds() : 0;
    least = Math.max(least, refilling.leastSpan(from, to, span));
    for (int middle = from + 1; middle < to; middle++) {
      least = Math.max(least, span[from][middle] + span[middle][to]);
    }
    while (least < reach && !until.isOver()) {
      if (fitting[to][from].has(least)) {
        Seconds[] open = new Seconds[count];
        for (int station = from + 1; station < to; station++) {
          open[station] = Seconds.within(reach);
          open[station].add(span[from][station], least - span[station][to]);
          open[station].retainLater(fitting[station][from], 0);
          open[station].retainLater(fitting[station][to], least);
        }
        if (isFilled(from + 1, to, span[from][from + 1], open, until)) {
          return least;
        }
      }
      least++;
    }
    return least; // when time ran out: a bound that is too low is still a bound
  }

  /** Whether the brewers from {@code next} on find a place before the last. */
  private boolean isFilled(int next, int to, int low, Seconds[] open, Patience until) {
    if (next == to) {
      return true;
    }
    for (int at = open[next].next(low); at != Seconds.NONE; at = open[next].next(at + 1)) {
      if (until.isOver()
          || isFilled(
              next + 1, to, at + span[next][next + 1], narrowed(open, next, at, to), until)) {
        return true;
      }
    }
    return false;
  }
}
