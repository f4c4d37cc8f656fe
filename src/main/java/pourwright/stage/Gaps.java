package pourwright.stage;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import pourwright.stage.Apart.Busy;

/**
 * Whether rinsing, dosing, swirling, refills and speeches find room between pours whose times are
 * fixed.
 *
 * <p>Hands go through time from left to right. What matters of the past is only what has been done,
 * where the hands are and when they are free; the earliest such moment is always the best one to
 * have, so each state is looked at once. A "no" is a proof; a "yes" leaves serving and cleaning
 * out.
 */
final class Gaps {
  private static final int FREE_PLACE = -2;

  /** As many as a state has bits for, and room for refills and speeches. */
  private static final int MOST_FILLERS = 50;

  private static final int NEVER = Integer.MAX_VALUE / 2;

  private final Work work;
  private final boolean isKettleRule;
  private final int reheatSeconds;

  /** Pours and lifts of the brewers whose first pour is fixed, in order of time. */
  private final List<Busy> fixed = new ArrayList<>();

  private final List<Filler> fillers = new ArrayList<>();
  private final Map<State, Integer> seen = new HashMap<>();

  /** Where the fillers went, once all fit. */
  private final Map<Job, Integer> starts = new HashMap<>();

  /**
   * A job to be put into a gap.
   *
   * @param from first second at which it may begin
   * @param until last second at which it may begin
   * @param needs bits of the fillers that must be done before it
   * @param isNeeded whether it must be done before the last fixed job
   */
  private record Filler(Job job, int from, int until, long needs, boolean isNeeded) {}

  /** What has been done, how many fixed jobs too, where the hands are, what the kettle gave. */
  private record State(long done, int next, int place, int poured) {}

  private static final State START = new State(0, 0, FREE_PLACE, 0);

  /**
   * @param first second of each brewer's first pour; of those from {@code known} on, the last
   *     possible
   * @param known how many brewers' first pours are fixed
   * @param isInTurn whether coffee and paper of one brewer are done with before those of the next
   */
  private Gaps(Work work, List<Rule> rules, int[] first, int known, boolean isInTurn) {
    this.work = work;
    this.isKettleRule = rules.stream().anyMatch(Rule.KettleSuffices.class::isInstance);
    this.reheatSeconds = work.routine.kettle().reheatSeconds();
    long prepared = 0;
    for (int station = 0; station < first.length; station++) {
      boolean isKnown = station < known;
      long before = prepared;
      for (Job job : work.chains.get(station)) {
        switch (job.chore()) {
          case RINSE, DOSE -> {
            before |= add(job, 0, first[station] - job.seconds(), before, true);
            prepared = isInTurn ? before : 0;
          }
          case SWIRL -> {
            if (isKnown) {
              int end = first[station] + work.pour(station, 1).seconds();
              add(job, end, end + StageModel.SWIRL_WITHIN_SECONDS, before, true);
            }
          }
          case POUR, LIFT -> {
            if (isKnown) {
              fixed.add(new Busy(job, first[station] + work.punctualOffset(job)));
            }
          }
          default -> {}
        }
      }
    }
    fixed.sort(Comparator.comparingInt(Busy::offset));
    moves();
    if (isKettleRule) {
      long before = 0;
      for (Job refill : work.refills) {
        // the brewers known so far may do with less
        before = add(refill, 0, NEVER, before, known == first.length);
      }
    }
    for (Rule rule : rules) {
      if (rule instanceof Rule.SpeakInTime speak) {
        Speech speech = work.routine.speeches().get(speak.speech());
        add(work.speeches.get(speak.speech()), speech.earliest(), speech.latest(), 0, false);
      }
    }
  }

  /** Between the pours of two brewers the one scale is moved, if there is but one. */
  private void moves() {
    int seconds = work.routine.hands().scale();
    Optional<Busy> before = Optional.empty();
    for (Busy busy : fixed) {
      if (busy.job().chore() != Chore.POUR) {
        continue;
      }
      Job pour = busy.job();
      boolean isMove = before.filter(last -> last.job().station() != pour.station()).isPresent();
      if (seconds > 0 && isMove && fillers.size() < MOST_FILLERS) {
        Busy last = before.orElseThrow();
        Job move = Moves.job(work, fillers.size(), pour);
        add(move, last.offset() + last.job().seconds(), busy.offset() - seconds, 0, true);
      }
      before = Optional.of(busy);
    }
  }

  /** False when some chore finds no room, whatever the brewers not yet fixed do. */
  static boolean mayFit(Work work, List<Rule> rules, int[] first, int known) {
    return new Gaps(work, rules, first, known, false).fits(0, START);
  }

  /**
   * Whether the chores find room when coffee and paper of one brewer are done with before those of
   * the next: sooner known, but a "no" is no proof.
   */
  static boolean fitInTurn(Work work, List<Rule> rules, int[] first, int known) {
    return new Gaps(work, rules, first, known, true).fits(0, START);
  }

  /**
   * Where the chores go.
   *
   * @param first second of each brewer's first pour
   * @return starts of all jobs that have their place; the others are left out
   */
  static Optional<Map<Job, Integer>> findStarts(Work work, List<Rule> rules, int[] first) {
    Gaps gaps = new Gaps(work, rules, first, first.length, false);
    if (!gaps.fits(0, START)) {
      return Optional.empty();
    }
    gaps.fixed.forEach(busy -> gaps.starts.put(busy.job(), busy.offset()));
    return Optional.of(gaps.starts);
  }

  private long add(Job job, int from, int until, long needs, boolean isNeeded) {
    fillers.add(new Filler(job, from, until, needs, isNeeded));
    return 1L << (fillers.size() - 1);
  }

  private boolean fits(int now, State state) {
    if (isMissed(now, state)) {
      return false;
    }
    Integer before = seen.get(state);
    if (before != null && before <= now) {
      return false;
    }
    seen.put(state, now);
    if (state.next() == fixed.size()) {
      return isDone(now, state);
    }
    return fitsWithFillerNext(now, state)
        || (!leavesRoom(now, state) && fitsWithFixedNext(now, state));
  }

  /** Whether something could no longer begin in time. */
  private boolean isMissed(int now, State state) {
    for (int i = 0; i < fillers.size(); i++) {
      if ((state.done() & 1L << i) == 0 && fillers.get(i).until() < now) {
        return true;
      }
    }
    return false;
  }

  /** Nothing fixed is left; what is needed must have been done, or has all the time after it. */
  private boolean isDone(int now, State state) {
    for (int i = 0; i < fillers.size(); i++) {
      boolean isOpen = (state.done() & 1L << i) == 0;
      if (isOpen && fillers.get(i).isNeeded()) {
        return fitsWithFillerNext(now, state);
      }
    }
    return true;
  }

  private boolean fitsWithFixedNext(int now, State state) {
    Busy next = fixed.get(state.next());
    Job job = next.job();
    if (now + travel(state.place(), job) > next.offset() || !hasWhatItNeeds(job, state)) {
      return false;
    }
    int poured = state.poured() + job.grams();
    if (isKettleRule && poured > work.usableGrams()) {
      return false;
    }
    return fits(
        next.offset() + job.seconds(),
        new State(state.done(), state.next() + 1, job.station(), poured));
  }

  /** Before a first pour the coffee must be in; before the second, the swirl be made. */
  private boolean hasWhatItNeeds(Job pour, State state) {
    for (int i = 0; i < fillers.size(); i++) {
      Job job = fillers.get(i).job();
      if (job.station() == pour.station()
          && job.station() >= 0
          && (state.done() & 1L << i) == 0
          && (job.chore() != Chore.SWIRL || pour.pour() != 1)
          && (job.chore() != Chore.MOVE_SCALE || pour.pour() == job.pour())) {
        return false;
      }
    }
    return true;
  }

  /**
   * Whether a chore could still be done before the next fixed job. Then going on without it is
   * never better: it would be left to do, and the hands end at the same place at the same time.
   * Refills are another matter; a later one can be worth more.
   */
  private boolean leavesRoom(int now, State state) {
    Busy next = fixed.get(state.next());
    for (int i = 0; i < fillers.size(); i++) {
      Job job = fillers.get(i).job();
      if (job.chore() == Chore.REFILL) {
        continue;
      }
      int end = endOf(i, now, state, next.offset());
      if (end != NEVER && end + travel(placeAfter(job), next.job()) <= next.offset()) {
        return true;
      }
    }
    return false;
  }

  private boolean fitsWithFillerNext(int now, State state) {
    int gapEnd = state.next() < fixed.size() ? fixed.get(state.next()).offset() : NEVER;
    for (int i = 0; i < fillers.size(); i++) {
      int end = endOf(i, now, state, gapEnd);
      if (end == NEVER) {
        continue;
      }
      Job job = fillers.get(i).job();
      int poured = job.chore() == Chore.REFILL ? 0 : state.poured();
      State then = new State(state.done() | 1L << i, state.next(), placeAfter(job), poured);
      if (fits(end, then)) {
        starts.put(job, end - job.seconds());
        return true;
      }
    }
    return false;
  }

  /** When a filler would be done if it came next; {@link #NEVER} when it cannot. */
  private int endOf(int i, int now, State state, int gapEnd) {
    Filler filler = fillers.get(i);
    boolean isDone = (state.done() & 1L << i) != 0;
    if (isDone || (state.done() & filler.needs()) != filler.needs()) {
      return NEVER;
    }
    Job job = filler.job();
    int begin = Math.max(filler.from(), now + travel(state.place(), job));
    int end = begin + job.seconds();
    boolean isTooSoon =
        job.chore() == Chore.REFILL
            && (state.poured() == 0 || end + reheatSeconds > nextPour(state.next()));
    return begin > filler.until() || end > gapEnd || isTooSoon ? NEVER : end;
  }

  private static int placeAfter(Job job) {
    return job.chore() == Chore.SPEAK ? FREE_PLACE : job.station();
  }

  private int nextPour(int next) {
    for (int i = next; i < fixed.size(); i++) {
      if (fixed.get(i).job().chore() == Chore.POUR) {
        return fixed.get(i).offset();
      }
    }
    return NEVER;
  }

  private int travel(int place, Job to) {
    return place == FREE_PLACE || to.chore() == Chore.SPEAK || place == to.station()
        ? 0
        : work.routine.hands().travel();
  }
}
