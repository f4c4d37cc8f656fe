package pourwright.stage;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import org.jspecify.annotations.Nullable;
import pourwright.plan.Start;

/** Tries every second for every job: slow, and written without the solver's model. */
final class Exhaustive {
  private final Work work;
  private final Routine routine;
  private final int[] start;
  private int @Nullable [] best;
  private int soonest;

  private Exhaustive(Routine routine) {
    this.routine = routine;
    this.work = Work.of(routine);
    this.start = new int[work.jobs.size()];
  }

  /** Seconds by wish of the best timetable, in the order of the wishes. */
  static Optional<int[]> best(Routine routine) {
    Exhaustive search = new Exhaustive(routine);
    List<Job> order = new ArrayList<>();
    search.work.chains.forEach(order::addAll);
    order.addAll(search.work.refills);
    order.addAll(search.work.speeches);
    search.place(order, 0);
    return Optional.ofNullable(search.best);
  }

  /**
   * The least end of the last lift with every pour and lift at its moment (s); empty when there is
   * none by {@code endBy}.
   */
  static OptionalInt soonestLastLift(Routine routine, int endBy) {
    Exhaustive search = new Exhaustive(routine);
    List<Job> order = new ArrayList<>();
    for (List<Job> chain : search.work.chains) {
      chain.stream()
          .filter(job -> job.chore() != Chore.SERVE && job.chore() != Chore.CLEAN)
          .forEach(order::add);
    }
    order.addAll(search.work.refills);
    order.addAll(search.work.speeches);
    search.soonest = endBy + 1;
    search.placePunctual(order, 0);
    return search.soonest > endBy ? OptionalInt.empty() : OptionalInt.of(search.soonest);
  }

  private void placePunctual(List<Job> order, int next) {
    if (next == order.size()) {
      if (kettleSuffices()) {
        soonest =
            order.stream()
                .filter(job -> job.chore() == Chore.LIFT)
                .mapToInt(this::endOf)
                .max()
                .orElseThrow();
      }
      return;
    }
    Job job = order.get(next);
    boolean isFollowing = next > 0 && job.station() >= 0;
    int from =
        isFollowing && order.get(next - 1).station() == job.station()
            ? endOf(order.get(next - 1))
            : 0;
    boolean isSpeech = job.chore() == Chore.SPEAK;
    int rest = isSpeech || job.station() < 0 ? job.seconds() : secondsToLift(job);
    int until = isSpeech ? routine.endBySeconds() : soonest - 1;
    for (int at = from; at + rest <= until; at++) {
      start[job.id()] = at;
      boolean isTimed = job.chore() == Chore.LIFT || (job.chore() == Chore.POUR && job.pour() > 1);
      if ((!isTimed || wait(job) == 0) && fits(order, next)) {
        placePunctual(order, next + 1);
      }
    }
  }

  /** From the start of a job to the end of its brewer's lift at least. */
  private int secondsToLift(Job job) {
    int seconds = 0;
    for (Job later : work.chains.get(job.station())) {
      if (later.id() >= job.id()
          && later.chore() != Chore.SERVE
          && later.chore() != Chore.CLEAN
          && later.chore() != Chore.POUR
          && later.chore() != Chore.SWIRL
          && later.chore() != Chore.LIFT) {
        seconds += later.seconds();
      }
    }
    Job lift =
        work.chains.get(job.station()).stream()
            .filter(each -> each.chore() == Chore.LIFT)
            .findFirst()
            .orElseThrow();
    boolean isPrepared = job.chore() != Chore.RINSE && job.chore() != Chore.DOSE;
    int fromPour = work.punctualOffset(lift) + lift.seconds();
    return switch (job.chore()) {
      case POUR, LIFT -> fromPour - work.punctualOffset(job);
      default -> isPrepared ? job.seconds() : seconds + fromPour;
    };
  }

  private void place(List<Job> order, int next) {
    if (next == order.size()) {
      if (kettleSuffices()) {
        int[] seconds = seconds();
        int apart = seconds[1];
        boolean together =
            routine.servedWithinSeconds() == 0 || apart <= routine.servedWithinSeconds();
        if (together && (best == null || Arrays.compare(seconds, best) < 0)) {
          best = seconds;
        }
      }
      return;
    }
    Job job = order.get(next);
    for (int at = 0; at + job.seconds() <= routine.endBySeconds(); at++) {
      start[job.id()] = at;
      if (fits(order, next)) {
        place(order, next + 1);
      }
    }
  }

  private boolean fits(List<Job> order, int position) {
    Job job = order.get(position);
    int at = start[job.id()];
    for (int i = 0; i < position; i++) {
      Job other = order.get(i);
      int walk =
          job.chore() == Chore.SPEAK
                  || other.chore() == Chore.SPEAK
                  || job.station() == other.station()
              ? 0
              : routine.hands().travel();
      int otherAt = start[other.id()];
      boolean apart =
          at >= otherAt + other.seconds() + walk || otherAt >= at + job.seconds() + walk;
      if (!apart) {
        return false;
      }
      if (job.station() == other.station() && job.station() >= 0 && at < otherAt) {
        return false; // a chain is placed in its order
      }
    }
    return switch (job.chore()) {
      case SWIRL -> at - endOf(work.pour(job.station(), 1)) <= 5;
      case SPEAK -> {
        Speech speech = routine.speeches().get(work.speeches.indexOf(job));
        yield at >= speech.earliest() && at <= speech.latest();
      }
      case POUR -> pourFits(job);
      case LIFT -> {
        int wait = wait(job);
        yield wait >= 0 && wait <= routine.patienceSeconds();
      }
      default -> true;
    };
  }

  private boolean pourFits(Job job) {
    if (job.pour() == 1) {
      return !routine.leftToRight()
          || job.station() == 0
          || start[job.id()] >= endOf(work.pour(job.station() - 1, 1));
    }
    if (start[job.id()] < endOf(work.pour(job.station(), job.pour() - 1)) + 3) {
      return false;
    }
    int wait = wait(job);
    return work.planned(job).start() instanceof Start.WhenDrained
        ? wait >= 0 && wait <= routine.patienceSeconds()
        : Math.abs(wait)
            <= routine.stations().get(job.station()).plan().tolerance().start().toSeconds();
  }

  /** Seconds after the moment at which a pour or a lift should begin. */
  private int wait(Job job) {
    int station = job.station();
    int pours = routine.stations().get(station).plan().pours().size();
    Job before = work.pour(station, job.chore() == Chore.LIFT ? pours : job.pour() - 1);
    int drained =
        endOf(before) + routine.stations().get(station).drainSeconds().get(before.pour() - 1);
    if (job.chore() == Chore.LIFT) {
      return start[job.id()] - drained;
    }
    Start when = work.planned(job).start();
    if (when instanceof Start.AtClock clock) {
      return start[job.id()] - start[work.pour(station, 1).id()] - (int) clock.at().seconds();
    }
    if (when instanceof Start.AfterEnd after) {
      return start[job.id()] - endOf(before) - (int) after.gap().toSeconds();
    }
    return start[job.id()] - drained;
  }

  private boolean kettleSuffices() {
    List<Job> pours = work.jobs.stream().filter(job -> job.chore() == Chore.POUR).toList();
    int from = Integer.MIN_VALUE;
    for (int r = 0; r <= work.refills.size(); r++) {
      int until = r < work.refills.size() ? start[work.refills.get(r).id()] : Integer.MAX_VALUE;
      int begin = from;
      int poured =
          pours.stream()
              .filter(job -> start[job.id()] >= begin && start[job.id()] < until)
              .mapToInt(Job::grams)
              .sum();
      if (poured > work.usableGrams()) {
        return false;
      }
      if (r < work.refills.size()) {
        int hot = endOf(work.refills.get(r)) + routine.kettle().reheatSeconds();
        int refill = until;
        if (pours.stream().anyMatch(job -> start[job.id()] >= refill && start[job.id()] < hot)) {
          return false;
        }
        if (r + 1 < work.refills.size() && start[work.refills.get(r + 1).id()] < hot) {
          return false;
        }
        from = until;
      }
    }
    return true;
  }

  private int endOf(Job job) {
    return start[job.id()] + job.seconds();
  }

  private int[] seconds() {
    int late = 0;
    int end = 0;
    int firstServed = Integer.MAX_VALUE;
    int lastServed = Integer.MIN_VALUE;
    for (Job job : work.jobs) {
      end = Math.max(end, endOf(job));
      if (job.chore() == Chore.LIFT || (job.chore() == Chore.POUR && job.pour() > 1)) {
        late += Math.abs(wait(job));
      } else if (job.chore() == Chore.SERVE) {
        firstServed = Math.min(firstServed, start[job.id()]);
        lastServed = Math.max(lastServed, start[job.id()]);
      }
    }
    int apart = lastServed > firstServed ? lastServed - firstServed : 0;
    return new int[] {late, apart, end};
  }
}
