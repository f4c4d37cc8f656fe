package pourwright.stage;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * Finds the first pours of all brewers so that the last dripper comes off as early as can be, with
 * every pour and lift at its moment.
 *
 * <p>Being punctual makes a brewer one fixed pattern, and two patterns fit together or not by the
 * distance of their first pours alone. So this is a search over one number per brewer: its distance
 * from the first brewer. The distances that fit are sets of seconds, least spans of neighbours are
 * the bound, and {@link Gaps} refuses what leaves no room for the chores.
 */
final class FirstPours {
  private final Work work;
  private final List<Rule> rules;

  /** The rules without the speeches, which alone hang on the clock. */
  private final List<Rule> silent;

  private final Patience patience;
  private final int count;
  private final int reach;

  /** {@code fitting[a][b]}: how long after b's first pour that of a may lie. */
  private final Seconds[][] fitting;

  private final int[] earliest;
  private final int[] length;

  /** Whether brewers' first pours come in their order, by rule or because all are alike. */
  private final boolean isInOrder;

  private final boolean hasSpeeches;

  /** Least distance of the first pours of two brewers, in order only (s). */
  private final int[][] span;

  private Optional<List<Integer>> best = Optional.empty();

  /** Only what ends before this is still of interest (s). */
  private int endBefore;

  private boolean isCut;

  /**
   * What the search came to.
   *
   * @param seconds first pour of each brewer
   * @param end last lift done (s)
   * @param leastEnd none ends sooner (s); {@code end} when that is proven the soonest
   */
  record Answer(List<Integer> seconds, int end, int leastEnd) {
    Answer {
      seconds = List.copyOf(seconds);
    }
  }

  private FirstPours(Work work, List<Rule> rules, int endBy, Patience patience) {
    this.work = work;
    this.rules = rules;
    this.silent = rules.stream().filter(rule -> !(rule instanceof Rule.SpeakInTime)).toList();
    this.patience = patience;
    this.count = work.chains.size();
    this.endBefore = endBy + 1;
    this.reach = Math.max(1, endBy);
    this.earliest = new int[count];
    this.length = new int[count];
    this.fitting = new Seconds[count][count];
    this.span = new int[count][count];
    this.isInOrder =
        rules.stream().anyMatch(Rule.LeftToRight.class::isInstance) || work.areBrewersAlike();
    this.hasSpeeches = rules.stream().anyMatch(Rule.SpeakInTime.class::isInstance);
    List<List<Apart.Busy>> patterns = new ArrayList<>();
    for (int station = 0; station < count; station++) {
      patterns.add(pattern(station));
    }
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

  private List<Apart.Busy> pattern(int station) {
    List<Apart.Busy> pattern = new ArrayList<>();
    for (Job job : work.chains.get(station)) {
      switch (job.chore()) {
        case RINSE, DOSE -> earliest[station] += job.seconds();
        case POUR, LIFT -> {
          int offset = work.punctualOffset(job);
          pattern.add(new Apart.Busy(job, offset));
          length[station] = Math.max(length[station], offset + job.seconds());
        }
        default -> {}
      }
    }
    return pattern;
  }

  /**
   * The first pours with the soonest end; empty when there are none, or none was found.
   *
   * @param endBy last second at which the last lift may be done
   */
  static Optional<Answer> soonest(Work work, List<Rule> rules, int endBy, Patience patience) {
    FirstPours search = new FirstPours(work, rules, endBy, patience);
    if (search.isInOrder) {
      search.findSpans(patience.share(3));
    }
    Seconds[] open = new Seconds[search.count];
    for (int station = 0; station < search.count; station++) {
      open[station] = Seconds.within(search.reach);
      open[station].add(station == 0 ? 0 : -search.reach, station == 0 ? 0 : search.reach);
    }
    search.place(0, new int[search.count], open);
    int leastEnd = search.isCut ? search.leastEnd() : search.endBefore;
    return search.best.map(
        seconds -> new Answer(seconds, search.endBefore, Math.min(leastEnd, search.endBefore)));
  }

  /** No timetable has its last lift done sooner (s). */
  private int leastEnd() {
    int end = 0;
    for (int i = 0; i < count; i++) {
      for (int j = i; j < count; j++) {
        end = Math.max(end, earliest[i] + span[i][j] + length[j]);
      }
    }
    return end;
  }

  /**
   * Tries every distance of the next brewer from the first one, nearest first.
   *
   * @param distance of the brewers placed so far (s)
   * @param open distances that fit with the brewers placed so far
   */
  private void place(int station, int[] distance, Seconds[] open) {
    if (station == count) {
      settle(distance);
      return;
    }
    int low = -reach;
    for (int before = 0; isInOrder && before < station; before++) {
      low = Math.max(low, distance[before] + span[before][station]);
    }
    for (int at = open[station].next(low);
        at != Seconds.NONE && at <= endBefore - length[station];
        at = open[station].next(at + 1)) {
      if (isCut || patience.isOver()) {
        isCut = true;
        return;
      }
      distance[station] = at;
      int latest = latestFirst(distance, station + 1);
      if (latest < earliest[0]) {
        return; // further off there is less time still
      }
      if (hasRoom(latest, distance, station + 1, false)) {
        place(station + 1, distance, narrowed(open, station, at, count));
      }
    }
  }

  /** What is left for the brewers up to {@code to} once one has its distance. */
  private Seconds[] narrowed(Seconds[] open, int station, int at, int to) {
    Seconds[] left = open.clone();
    for (int later = station + 1; later < to; later++) {
      left[later] = open[later].copy();
      left[later].retainLater(fitting[later][station], at);
    }
    return left;
  }

  /** All distances are known: finds the earliest start of all, and keeps it. */
  private void settle(int[] distance) {
    int latest = latestFirst(distance, count);
    int after = endBefore - 1 - latest;
    if (hasSpeeches) {
      for (int first = earliest[0]; first <= latest; first++) {
        if (hasRoom(first, distance, count, true)) {
          keep(first, distance, first + after);
          return;
        }
      }
      return;
    }
    // more time before the first pour leaves more room: halve
    int low = earliest[0];
    int high = latest;
    while (low < high) {
      int middle = (low + high) / 2;
      if (hasRoom(middle, distance, count, false)) {
        high = middle;
      } else {
        low = middle + 1;
      }
    }
    keep(high, distance, high + after);
  }

  private void keep(int first, int[] distance, int end) {
    List<Integer> seconds = new ArrayList<>();
    for (int after : distance) {
      seconds.add(first + after);
    }
    best = Optional.of(seconds);
    endBefore = end;
  }

  /** The last second for the first brewer's first pour, by the brewers placed so far. */
  private int latestFirst(int[] distance, int known) {
    int latest = Integer.MAX_VALUE;
    for (int station = 0; station < known; station++) {
      int last = endBefore - 1 - length[station];
      for (int later = known; isInOrder && later < count; later++) {
        last = Math.min(last, endBefore - 1 - length[later] - span[station][later]);
      }
      latest = Math.min(latest, last - distance[station]);
    }
    return latest;
  }

  private boolean hasRoom(int first, int[] distance, int known, boolean withSpeeches) {
    int[] seconds = new int[count];
    for (int station = 0; station < count; station++) {
      if (station < known) {
        seconds[station] = first + distance[station];
      } else {
        seconds[station] = endBefore - 1 - length[station];
        for (int later = station + 1; isInOrder && later < count; later++) {
          seconds[station] =
              Math.min(seconds[station], endBefore - 1 - length[later] - span[station][later]);
        }
      }
      if (seconds[station] < earliest[station]) {
        return false;
      }
    }
    return Gaps.mayFit(work, withSpeeches ? rules : silent, seconds, known);
  }

  /** Least spans of ever more neighbours, each found with the help of the shorter ones. */
  private void findSpans(Patience until) {
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
