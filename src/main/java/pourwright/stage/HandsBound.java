package pourwright.stage;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.PriorityQueue;

/**
 * How soon the last dripper can come off at the earliest, by the work of the one pair of hands.
 *
 * <p>With every pour and lift at its moment, no job begins before what its brewer needs first (its
 * head), and after it the last lift is still some way off (its tail). Hands that could break off
 * any job and take it up again would be done soonest by always doing the job with the longest tail
 * (Jackson's preemptive schedule; Carlier 1982 on the one-machine problem). No real hands are done
 * sooner.
 */
final class HandsBound {
  private final Work work;
  private final int[] earliest;
  private final int[] toEnd;
  private final List<Load> loads = new ArrayList<>();

  /**
   * A stretch of work.
   *
   * @param head no sooner than this does it begin (s); may be negative by the walk before it
   * @param tail from its end to the end of the last lift at least (s)
   */
  private record Load(int head, int seconds, int tail) {}

  private HandsBound(Work work, int[] earliest, int[] toEnd) {
    this.work = work;
    this.earliest = earliest;
    this.toEnd = toEnd;
  }

  /**
   * No timetable has its last lift done sooner (s).
   *
   * @param earliest no first pour of a brewer is sooner than this (s)
   * @param toEnd from a brewer's first pour to the end of the last lift of all at least (s)
   */
  static int lastLift(Work work, int[] earliest, int[] toEnd) {
    HandsBound bound = new HandsBound(work, earliest, toEnd);
    for (int station = 0; station < work.chains.size(); station++) {
      bound.brewer(station);
    }
    bound.refills();
    int withoutTalk = bound.preemptive();
    bound.speeches(withoutTalk);
    return Math.max(withoutTalk, bound.preemptive());
  }

  private void brewer(int station) {
    List<Job> chain = work.chains.get(station);
    int first = 0;
    for (Job job : chain) {
      if (job.chore() == Chore.RINSE || job.chore() == Chore.DOSE) {
        first += job.seconds();
      }
    }
    int before = 0;
    int walk = walk(Integer.MAX_VALUE);
    int pourEnd = 0;
    int end = 0;
    for (Job job : chain) {
      switch (job.chore()) {
        case RINSE, DOSE -> {
          before += job.seconds();
          add(before - job.seconds(), job.seconds(), toEnd[station] + first - before, walk);
          walk = 0;
        }
        case SWIRL -> {
          int latest =
              work.isSwirlNext(station) ? pourEnd : pourEnd + StageModel.SWIRL_WITHIN_SECONDS;
          end = latest + job.seconds();
          add(earliest[station] + pourEnd, job.seconds(), toEnd[station] - end, 0);
        }
        case POUR, LIFT -> {
          int offset = work.punctualOffset(job);
          boolean isFirst = job.chore() == Chore.POUR && job.pour() == 1;
          int done = offset + job.seconds();
          add(
              earliest[station] + offset,
              job.seconds(),
              toEnd[station] - done,
              isFirst ? walk : walk(Math.max(0, offset - end)));
          end = done;
          pourEnd = isFirst ? done : pourEnd;
        }
        default -> {}
      }
    }
  }

  /**
   * What the hands lose before a job: they come from elsewhere, or have waited here.
   *
   * @param gap since the brewer's job before (s)
   */
  private int walk(int gap) {
    return Math.min(gap, work.leastWalk());
  }

  private void add(int head, int seconds, int tail, int walk) {
    loads.add(new Load(head - walk, seconds + walk, tail));
  }

  /** Each refill comes before a last pour at least, as there is too little water without it. */
  private void refills() {
    int reheat = work.routine.kettle().reheatSeconds();
    int least = Integer.MAX_VALUE;
    for (int station = 0; station < work.chains.size(); station++) {
      int pours = work.routine.stations().get(station).plan().pours().size();
      Job lift = work.lift(station);
      int end = work.punctualOffset(lift) + lift.seconds();
      least = Math.min(least, end - work.punctualOffset(work.pour(station, pours)));
    }
    int left = work.refills.size();
    for (Job refill : work.refills) {
      left--;
      add(
          0,
          refill.seconds(),
          left * (reheat + refill.seconds()) + reheat + Math.max(0, least),
          walk(reheat));
    }
  }

  /** Those that must have begun before the last lift, hence be over before it. */
  private void speeches(int lastLift) {
    for (int i = 0; i < work.speeches.size(); i++) {
      Job job = work.speeches.get(i);
      Speech speech = work.routine.speeches().get(i);
      if (speech.latest() < lastLift - work.routine.hands().lift()) {
        // the walk after it is counted with the next job, and may lie within it
        int seconds = Math.max(0, job.seconds() - walk(Integer.MAX_VALUE));
        loads.add(new Load(speech.earliest(), seconds, work.routine.hands().lift()));
      }
    }
  }

  private int preemptive() {
    List<Load> waiting = new ArrayList<>(loads);
    waiting.sort(Comparator.comparingInt(Load::head));
    PriorityQueue<int[]> open =
        new PriorityQueue<>(Comparator.comparingInt((int[] load) -> -load[1]));
    int next = 0;
    int now = Integer.MIN_VALUE / 2;
    int end = 0;
    while (next < waiting.size() || !open.isEmpty()) {
      if (open.isEmpty()) {
        now = Math.max(now, waiting.get(next).head());
      }
      while (next < waiting.size() && waiting.get(next).head() <= now) {
        Load load = waiting.get(next++);
        open.add(new int[] {load.seconds(), load.tail()});
      }
      int until = next < waiting.size() ? waiting.get(next).head() : Integer.MAX_VALUE / 2;
      int[] doing = open.remove();
      if (doing[0] <= until - now) {
        now += doing[0];
        end = Math.max(end, now + doing[1]);
      } else {
        doing[0] -= until - now;
        now = until;
        open.add(doing);
      }
    }
    return end;
  }
}
