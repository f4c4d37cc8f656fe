package pourwright.stage;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import pourwright.plan.PlannedPour;
import pourwright.plan.Start;
import pourwright.units.Mass;

/** The jobs of a routine and how they hang together; whole seconds. */
final class Work {
  /** More than all brewers pour (g). */
  private static final long MOST_GRAMS = 1L << 32;

  final Routine routine;
  final List<Job> jobs = new ArrayList<>();

  /** Per station, its jobs in the order in which they must be done. */
  final List<List<Job>> chains = new ArrayList<>();

  final List<Job> refills = new ArrayList<>();
  final List<Job> speeches = new ArrayList<>();

  private Work(Routine routine) {
    this.routine = routine;
  }

  static Work of(Routine routine) {
    Work work = new Work(routine);
    for (int station = 0; station < routine.stations().size(); station++) {
      work.chains.add(work.chain(station));
    }
    for (int i = 0; i < work.refillsNeeded(); i++) {
      work.refills.add(
          work.job(
              Chore.REFILL,
              Job.NO_STATION,
              0,
              work.refillSeconds(),
              Mass.ZERO,
              Chore.REFILL.words()));
    }
    for (Speech speech : routine.speeches()) {
      work.speeches.add(
          work.job(Chore.SPEAK, Job.NO_STATION, 0, speech.seconds(), Mass.ZERO, speech.say()));
    }
    return work;
  }

  private List<Job> chain(int station) {
    HandTimes hands = routine.hands();
    Station at = routine.stations().get(station);
    List<Job> chain = new ArrayList<>();
    addChore(chain, Chore.RINSE, station, hands.rinse());
    addChore(chain, Chore.DOSE, station, hands.dose());
    for (PlannedPour pour : at.plan().pours()) {
      chain.add(
          job(
              Chore.POUR,
              station,
              pour.index(),
              ceilSeconds(pour.length()),
              pour.add(),
              String.format(Locale.ROOT, "pour %d: %.0f g", pour.index(), pour.add().grams())));
      if (pour.index() == 1) {
        addChore(chain, Chore.SWIRL, station, hands.swirl());
      }
    }
    addChore(chain, Chore.LIFT, station, hands.lift());
    addChore(chain, Chore.SERVE, station, hands.serve());
    addChore(chain, Chore.CLEAN, station, hands.clean());
    return chain;
  }

  private void addChore(List<Job> chain, Chore chore, int station, int seconds) {
    if (seconds > 0) {
      chain.add(job(chore, station, 0, seconds, Mass.ZERO, chore.words()));
    }
  }

  private Job job(Chore chore, int station, int pour, int seconds, Mass water, String words) {
    Job job = new Job(jobs.size(), chore, station, pour, seconds, water, words);
    jobs.add(job);
    return job;
  }

  /**
   * The fewest refills by which all water can be poured: counted by volume, and by brewers where
   * none has so long a rest that the kettle could be refilled in it.
   */
  private int refillsNeeded() {
    int grams = jobs.stream().mapToInt(Job::grams).sum();
    int usable = usableGrams();
    if (usable < 1) {
      return 0;
    }
    int byVolume = Math.max(0, (grams + usable - 1) / usable - 1);
    int pause = refillSeconds() + routine.kettle().reheatSeconds();
    int latest = routine.patienceSeconds();
    for (int station = 0; station < chains.size(); station++) {
      latest = Math.max(latest, routine.patienceSeconds() + 2 * toleranceSeconds(station));
      if (grams(station) > usable) {
        return byVolume;
      }
    }
    return longestRest() + latest < pause ? Math.max(byVolume, fillings() - 1) : byVolume;
  }

  /** How often the kettle must be full when each brewer has all water from one filling. */
  private int fillings() {
    // of each set of brewers the fewest fillings, and the least taken from the last of them
    long[] best = new long[1 << chains.size()];
    for (int set = 1; set < best.length; set++) {
      best[set] = Long.MAX_VALUE;
      for (int station = 0; station < chains.size(); station++) {
        int rest = set & ~(1 << station);
        boolean isLast = rest < 1 << station;
        if (rest != set && (isLast || !routine.leftToRight())) {
          long taken = best[rest] % MOST_GRAMS + grams(station);
          long fillings = best[rest] / MOST_GRAMS;
          best[set] =
              Math.min(
                  best[set],
                  rest != 0 && taken <= usableGrams()
                      ? fillings * MOST_GRAMS + taken
                      : (fillings + 1) * MOST_GRAMS + grams(station));
        }
      }
    }
    return (int) (best[best.length - 1] / MOST_GRAMS);
  }

  int refillSeconds() {
    return Math.max(1, routine.kettle().refillSeconds());
  }

  /** All water of a brewer (g). */
  int grams(int station) {
    return chains.get(station).stream().mapToInt(Job::grams).sum();
  }

  /** From a brewer's first pour to the end of the last one, when nothing waits (s). */
  int lastPourEnd(int station) {
    Job last = pour(station, routine.stations().get(station).plan().pours().size());
    return punctualOffset(last) + last.seconds();
  }

  /** The longest time from the end of a pour to the next of the same brewer, when nothing waits. */
  int longestRest() {
    int longest = 0;
    for (List<Job> chain : chains) {
      Job before = chain.get(0);
      for (Job job : chain) {
        if (job.chore() == Chore.POUR) {
          if (job.pour() > 1) {
            int end = punctualOffset(before) + before.seconds();
            longest = Math.max(longest, punctualOffset(job) - end);
          }
          before = job;
        }
      }
    }
    return longest;
  }

  int usableGrams() {
    return (int) Math.floor(routine.kettle().usable().grams());
  }

  /** Seconds the hands need from the end of one job to the start of another. */
  int travel(Job from, Job to) {
    if (from.chore() == Chore.SPEAK || to.chore() == Chore.SPEAK) {
      return 0;
    }
    if (from.station() == to.station()) {
      return 0;
    }
    boolean isScaleBetween = from.chore() == Chore.POUR && to.chore() == Chore.POUR;
    return routine.hands().travel() + (isScaleBetween ? routine.hands().scale() : 0);
  }

  Job pour(int station, int index) {
    return chains.get(station).stream()
        .filter(job -> job.chore() == Chore.POUR && job.pour() == index)
        .findFirst()
        .orElseThrow();
  }

  Job lift(int station) {
    return chains.get(station).stream()
        .filter(job -> job.chore() == Chore.LIFT)
        .findFirst()
        .orElseThrow();
  }

  /**
   * What the hands lose at least on the way from one brewer to another (s); one speaks while
   * walking.
   */
  int leastWalk() {
    return speeches.stream().mapToInt(Job::seconds).reduce(routine.hands().travel(), Math::min);
  }

  PlannedPour planned(Job pour) {
    return routine.stations().get(pour.station()).plan().pours().get(pour.pour() - 1);
  }

  /** Whole seconds by which a pour may be off its moment. */
  int toleranceSeconds(int station) {
    return (int) routine.stations().get(station).plan().tolerance().start().toSeconds();
  }

  /** A pour after the first that waits for its bed to drain. */
  boolean waitsForDrain(Job pour) {
    return planned(pour).start() instanceof Start.WhenDrained;
  }

  /** A pour that follows a gap after the one before. */
  boolean isAfterEnd(Job pour) {
    return planned(pour).start() instanceof Start.AfterEnd;
  }

  int drainSeconds(Job pour) {
    return routine.stations().get(pour.station()).drainSeconds().get(pour.pour() - 1);
  }

  /**
   * When a later pour or a lift is due.
   *
   * @param from the job from whose start it is counted
   * @param after seconds from there
   */
  record Moment(Job from, int after) {}

  Moment moment(Job job) {
    int last = routine.stations().get(job.station()).plan().pours().size();
    Job before = pour(job.station(), job.chore() == Chore.LIFT ? last : job.pour() - 1);
    if (job.chore() == Chore.POUR && planned(job).start() instanceof Start.AtClock clock) {
      return new Moment(pour(job.station(), 1), (int) Math.round(clock.at().seconds()));
    }
    if (job.chore() == Chore.POUR && planned(job).start() instanceof Start.AfterEnd after) {
      return new Moment(before, before.seconds() + (int) after.gap().plusMillis(500).toSeconds());
    }
    return new Moment(before, before.seconds() + drainSeconds(before));
  }

  /** Seconds from the start of the first pour to that of a pour or lift, when nothing waits. */
  int punctualOffset(Job job) {
    if (job.chore() == Chore.POUR && job.pour() == 1) {
      return 0;
    }
    Moment moment = moment(job);
    return punctualOffset(moment.from()) + moment.after();
  }

  /** Whether the beds leave every pour at its moment, and none too close to the one before. */
  boolean canBePunctual() {
    for (List<Job> chain : chains) {
      int ended = 0;
      for (Job job : chain) {
        if (job.chore() == Chore.POUR || job.chore() == Chore.LIFT) {
          int begin = punctualOffset(job);
          int gap = job.chore() == Chore.POUR && job.pour() > 1 ? StageModel.LEAST_GAP_SECONDS : 0;
          if (begin < ended + gap) {
            return false;
          }
          ended = begin + job.seconds();
        }
      }
    }
    return true;
  }

  /**
   * Whether the hands cannot do anything else between a brewer's first pour and its swirl, so that
   * the swirl may as well follow at once.
   */
  boolean isSwirlNext(int station) {
    int walks = 2 * routine.hands().travel();
    return routine.hands().scale() == 0
        && jobs.stream()
            .filter(job -> job.station() != station)
            .mapToInt(job -> job.seconds() + (job.chore() == Chore.SPEAK ? 0 : walks))
            .noneMatch(seconds -> seconds <= StageModel.SWIRL_WITHIN_SECONDS);
  }

  /** Whether all brewers do the same at the same pace, so that any order of them is as good. */
  boolean areBrewersAlike() {
    return routine.stations().stream()
            .map(station -> List.of(station.plan().pours(), station.drainSeconds()))
            .distinct()
            .count()
        == 1;
  }

  /** From the end of the last lift to the end of all, when all cups are served in one go (s). */
  int leastAfterLifts() {
    HandTimes hands = routine.hands();
    int others = chains.size() - 1;
    if (hands.serve() == 0) {
      return hands.clean();
    }
    int cleaning = hands.clean() == 0 ? 0 : chains.size() * hands.clean() + others * hands.travel();
    return leastApart() + hands.serve() + cleaning;
  }

  /**
   * Adds the serving of all cups in one go, then the cleaning, to the starts of everything that
   * comes before; the last lifted cup is served first, as the hands are there.
   */
  void serveTogether(Map<Job, Integer> starts) {
    int now = 0;
    int place = Job.NO_STATION;
    for (Map.Entry<Job, Integer> done : starts.entrySet()) {
      int end = done.getValue() + done.getKey().seconds();
      if (end > now || (end == now && done.getKey().chore() == Chore.LIFT)) {
        now = end;
        place = done.getKey().station();
      }
    }
    List<Integer> order = new ArrayList<>();
    for (int station = 0; station < chains.size(); station++) {
      order.add(station);
    }
    if (place != Job.NO_STATION) {
      order.remove(Integer.valueOf(place));
      order.add(0, place);
    }
    for (Chore chore : List.of(Chore.SERVE, Chore.CLEAN)) {
      for (int station : order) {
        Job job = last(station, chore);
        if (job != null) {
          now += place == station ? 0 : routine.hands().travel();
          starts.put(job, now);
          now += job.seconds();
          place = station;
        }
      }
      Collections.reverse(order); // where the last was served, the first is cleaned
    }
    for (Job speech : speeches) {
      if (!starts.containsKey(speech)) {
        int begin = Math.max(now, routine.speeches().get(speeches.indexOf(speech)).earliest());
        starts.put(speech, begin);
        now = begin + speech.seconds();
      }
    }
  }

  private @Nullable Job last(int station, Chore chore) {
    return chains.get(station).stream()
        .filter(job -> job.chore() == chore)
        .findFirst()
        .orElse(null);
  }

  /** The least from the first cup served to the last: all in one go. */
  int leastApart() {
    int cups = 0;
    int sum = 0;
    for (Job job : jobs) {
      if (job.chore() == Chore.SERVE) {
        sum += job.seconds() + routine.hands().travel();
        cups++;
      }
    }
    return cups < 2 ? 0 : sum / cups * (cups - 1);
  }

  /** An end of time that any order of all jobs fits into, were there no rule but the beds'. */
  int generousHorizon() {
    int sum = 0;
    for (Job job : jobs) {
      sum += job.seconds() + routine.hands().travel();
      if (job.chore() == Chore.POUR) {
        sum += drainSeconds(job) + planWait(job);
      }
    }
    sum += refills.size() * routine.kettle().reheatSeconds();
    for (Speech speech : routine.speeches()) {
      sum = Math.max(sum, speech.latest() + speech.seconds()) + speech.seconds();
    }
    return sum;
  }

  private int planWait(Job pour) {
    Start start = planned(pour).start();
    if (start instanceof Start.AtClock clock) {
      return (int) Math.ceil(clock.at().seconds());
    }
    if (start instanceof Start.AfterEnd after) {
      return ceilSeconds(after.gap());
    }
    return 0;
  }

  static int ceilSeconds(Duration duration) {
    return (int) Math.max(1, (duration.toMillis() + 999) / 1_000);
  }
}
