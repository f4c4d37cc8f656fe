package pourwright.stage;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;

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
  /** The same search for the same routine; any number would do. */
  private static final long SEED = 1;

  /** The least number of ways in which a sweep goes on with each begun routine; own choice. */
  private static final int BRANCHES = 12;

  /** The most begun routines that a sweep keeps; own choice. */
  private static final int MOST_WIDTH = 1024;

  private final Work work;
  private final List<Rule> rules;

  /** The rules without the speeches, which alone hang on the clock. */
  private final List<Rule> silent;

  private Patience deadline;
  private final int count;
  private final int reach;

  private final Distances distances;
  private final List<List<Apart.Busy>> patterns;
  private final Crowding crowding;
  private final Refilling refilling;
  private final int[] earliest;
  private final int[] length;

  /** Whether brewers' first pours come in their order, by rule or because all are alike. */
  private final boolean isInOrder;

  private final boolean hasSpeeches;

  private Optional<List<Integer>> best = Optional.empty();

  /** Only what ends before this is still of interest (s). */
  private int endBefore;

  private int leastEnd;
  private boolean isCut;

  /** Whether begun routines are looked at in one place only; then nothing is proven. */
  private boolean isHasty;

  /** Whether a "no" of the gaps need be no proof. */
  private boolean isQuick;

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
    this.deadline = patience;
    this.count = work.chains.size();
    this.endBefore = endBy + 1;
    this.reach = Math.max(1, endBy);
    this.earliest = new int[count];
    this.length = new int[count];
    this.isInOrder =
        rules.stream().anyMatch(Rule.LeftToRight.class::isInstance) || work.areBrewersAlike();
    this.hasSpeeches = rules.stream().anyMatch(Rule.SpeakInTime.class::isInstance);
    this.patterns = new ArrayList<>();
    this.crowding = new Crowding(work, reach);
    this.refilling = new Refilling(work, rules);
    for (int station = 0; station < count; station++) {
      patterns.add(pattern(station));
    }
    this.distances = new Distances(work, refilling, patterns, reach, isInOrder);
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
        case SWIRL -> {
          if (work.isSwirlNext(station)) {
            pattern.add(new Apart.Busy(job, work.pour(station, 1).seconds()));
          }
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
   * @param patience for a first answer
   * @param whole for the proof, once there is an answer
   */
  static Optional<Answer> soonest(
      Work work, List<Rule> rules, int endBy, Patience patience, Patience whole) {
    FirstPours search = new FirstPours(work, rules, endBy, patience);
    if (search.isInOrder) {
      search.distances.findSpans(patience.share(3));
    }
    Seconds[] open = search.distances.open();
    search.leastEnd = LeastEnd.of(work, search.distances, search.earliest, search.length);
    search.seek(open, patience.share(4));
    if (search.isCut) {
      search.sweep(open, patience.share(3));
      search.isHasty = true;
      search.seek(open, patience.share(2));
      search.isHasty = false;
      search.seek(open, search.best.isPresent() ? whole : patience);
    }
    int leastEnd = search.isCut ? search.leastEnd : search.endBefore;
    return search.best.map(
        seconds -> new Answer(seconds, search.endBefore, Math.min(leastEnd, search.endBefore)));
  }

  /** Looks for what is sooner than the best so far, and all of it unless time runs out. */
  private void seek(Seconds[] open, Patience until) {
    isCut = false;
    deadline = until;
    place(0, new int[count], open);
  }

  /**
   * Goes for an end much sooner than the best so far, and for one less soon where that fails: keeps
   * the first brewers that lie closest together, as many ways as the width says, and adds the next
   * brewer to each.
   */
  private void sweep(Seconds[] open, Patience until) {
    deadline = until;
    isQuick = true;
    SplittableRandom random = new SplittableRandom(SEED);
    int width = 8;
    int spread = 0;
    int step = Math.max(1, (endBefore - leastEnd) / 4);
    while (!until.isOver() && endBefore > leastEnd) {
      int before = endBefore;
      if (best.isPresent()) {
        endBefore = Math.max(leastEnd + 1, before - step);
      }
      if (!isReached(open, width, spread, random)) {
        endBefore = before;
        if (step > 1) {
          step /= 2;
        } else {
          width = Math.min(MOST_WIDTH, 2 * width);
          spread += 2;
        }
      }
    }
    isQuick = false;
  }

  /** Some brewers at their distances, and what that leaves to the others. */
  @SuppressWarnings("ArrayRecordComponent") // written once, and never compared
  private record Begun(int[] distance, Seconds[] open, int score) {}

  private boolean isReached(Seconds[] open, int width, int spread, SplittableRandom random) {
    List<Begun> level =
        List.of(new Begun(new int[count], distances.narrowed(open, 0, 0, count), 0));
    for (int station = 1; station < count; station++) {
      List<Begun> next = new ArrayList<>();
      for (Begun begun : level) {
        int low = distances.lowest(station, begun.distance());
        goOn(begun, station, low, BRANCHES + width / 8, spread, random, next);
        if (isInOrder && refilling.isBetweenBrewers()) {
          // nothing but the kettle speaks for a long pause
          int refilled = Math.max(low, refilling.afterRefill(begun.distance(), station));
          goOn(begun, station, refilled, BRANCHES / 2, spread, random, next);
        }
      }
      if (deadline.isOver()) {
        return false;
      }
      next.sort(Comparator.comparingInt(Begun::score));
      level = next.subList(0, Math.min(width, next.size()));
    }
    int aim = endBefore;
    for (Begun begun : level) {
      int latest = latestFirst(begun.distance(), count);
      if (latest >= earliest[0] && hasRoom(latest, begun.distance(), count, false)) {
        settle(begun.distance());
      }
    }
    return endBefore < aim;
  }

  /** Adds the next brewer to a begun routine, nearest first. */
  private void goOn(
      Begun begun,
      int station,
      int low,
      int branches,
      int spread,
      SplittableRandom random,
      List<Begun> next) {
    int tried = 0;
    for (int at = begun.open()[station].next(low);
        at != Seconds.NONE && tried < branches && !deadline.isOver();
        at = begun.open()[station].next(at + 1)) {
      int[] distance = begun.distance().clone();
      distance[station] = at;
      if (latestFirst(distance, station + 1) < earliest[0]) {
        return;
      }
      int latest = latestByKettle(distance, station + 1);
      if (latest >= earliest[0] && hasRoom(latest, distance, station + 1, false)) {
        tried++;
        next.add(
            new Begun(
                distance,
                distances.narrowed(begun.open(), station, at, count),
                random.nextInt(spread + 1) - latest));
      }
    }
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
    int low = distances.lowest(station, distance);
    for (int at = open[station].next(low);
        at != Seconds.NONE && at <= endBefore - length[station];
        at = open[station].next(at + 1)) {
      if (isCut || deadline.isOver()) {
        isCut = true;
        return;
      }
      if (endBefore <= leastEnd) {
        return; // proven the soonest
      }
      distance[station] = at;
      if (latestFirst(distance, station + 1) < earliest[0]) {
        return; // further off there is less time still
      }
      int latest = latestByKettle(distance, station + 1);
      if (latest >= earliest[0] && mayHaveRoom(latest, distance, station + 1)) {
        place(station + 1, distance, distances.narrowed(open, station, at, count));
      }
    }
  }

  /**
   * Whether some first pour of the first brewer leaves room. The latest need not be the best while
   * there are brewers to come: theirs may lie further off than the least, which leaves more room
   * between.
   */
  private boolean mayHaveRoom(int latest, int[] distance, int known) {
    if (!refilling.mayFit(busy(distance, known))) {
      return false;
    }
    int soonest = known == count || isHasty ? latest : earliest[0];
    for (int first = latest; first >= soonest; first--) {
      if (hasRoom(first, distance, known, false)) {
        return true;
      }
      if (deadline.isOver()) {
        isCut = true;
        return false;
      }
    }
    return false;
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
        last = Math.min(last, endBefore - 1 - length[later] - distances.span(station, later));
      }
      latest = Math.min(latest, last - distance[station]);
    }
    return latest;
  }

  /** The same with what the kettle asks of the brewers to come; further off it may ask for less. */
  private int latestByKettle(int[] distance, int known) {
    int latest = latestFirst(distance, known);
    for (int later = known; isInOrder && later < count; later++) {
      int least = distances.byKettle(distance, known, later);
      latest = Math.min(latest, endBefore - 1 - length[later] - least);
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
              Math.min(
                  seconds[station], endBefore - 1 - length[later] - distances.span(station, later));
        }
      }
      if (seconds[station] < earliest[station]) {
        return false;
      }
    }
    List<Apart.Busy> fixed = busy(seconds, known);
    if (!crowding.mayFit(fixed, seconds) || !refilling.mayFit(fixed)) {
      return false;
    }
    List<Rule> kept = withSpeeches ? rules : silent;
    return Gaps.fitInTurn(work, kept, seconds, known)
        || (!isQuick && Gaps.mayFit(work, kept, seconds, known));
  }

  private List<Apart.Busy> busy(int[] seconds, int known) {
    List<Apart.Busy> busy = new ArrayList<>();
    for (int station = 0; station < known; station++) {
      for (Apart.Busy one : patterns.get(station)) {
        busy.add(new Apart.Busy(one.job(), seconds[station] + one.offset()));
      }
    }
    busy.sort(Comparator.comparingInt(Apart.Busy::offset));
    return busy;
  }
}
