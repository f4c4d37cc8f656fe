package pourwright.stage;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import pourwright.plan.Tolerance;
import pourwright.statistic.Proportion;

/**
 * How a timetable fares in the hands of a brewer who scatters: many routines played with dice.
 *
 * <p>The brewer does the jobs in the order of the timetable, none before its time; a pour or lift
 * is made at the moment its own bed or clock asks for, as soon as the hands are there. Lateness
 * thus spreads from brewer to brewer as it does on a stage. The same seed plays the same routines.
 *
 * @param trials how many were played
 * @param inTime how many ended within the limit
 * @param allInside in how many every pour was inside its tolerances and the end in time
 * @param pours one for each pour, in the order of the timetable
 * @param medianEndSeconds half of them ended by then
 * @param slowEndSeconds nineteen in twenty ended by then
 */
public record Odds(
    int trials,
    int inTime,
    int allInside,
    List<PourOdds> pours,
    int medianEndSeconds,
    int slowEndSeconds) {

  public Odds {
    pours = List.copyOf(pours);
  }

  /**
   * How often one pour landed.
   *
   * @param station index of the brewer
   * @param pour from 1
   * @param massInside within the tolerance of its mass
   * @param startInside within the tolerance of its start
   * @param inside both
   */
  public record PourOdds(int station, int pour, int massInside, int startInside, int inside) {}

  /** The chance to end in time. */
  public Proportion endsInTime() {
    return new Proportion(inTime, trials);
  }

  /** The chance that all pours land and the end is in time. */
  public Proportion allGoesWell() {
    return new Proportion(allInside, trials);
  }

  /** The chance of one pour to land. */
  public Proportion of(PourOdds pour) {
    return new Proportion(pour.inside(), trials);
  }

  /**
   * Plays a timetable.
   *
   * @param trials at least 1
   */
  public static Odds of(
      Timetable timetable, Routine routine, Spreads spreads, long seed, int trials) {
    if (trials < 1) {
      throw new IllegalArgumentException("at least one trial, not " + trials);
    }
    Work work = Work.of(routine);
    SplittableRandom seeds = new SplittableRandom(seed);
    List<Timetable.Slot> pours =
        timetable.slots().stream().filter(slot -> slot.job().chore() == Chore.POUR).toList();
    int[][] counts = new int[pours.size()][3];
    double[] ends = new double[trials];
    int inTime = 0;
    int allInside = 0;
    for (int trial = 0; trial < trials; trial++) {
      Play play = new Play(work, spreads, seeds.split());
      ends[trial] = play.run(timetable.slots());
      boolean isInTime = ends[trial] <= routine.limitSeconds();
      boolean isAllInside = isInTime;
      for (int i = 0; i < counts.length; i++) {
        Landed landed = play.landed.get(i);
        counts[i][0] += landed.massInside() ? 1 : 0;
        counts[i][1] += landed.startInside() ? 1 : 0;
        boolean isInside = landed.massInside() && landed.startInside();
        counts[i][2] += isInside ? 1 : 0;
        isAllInside &= isInside;
      }
      inTime += isInTime ? 1 : 0;
      allInside += isAllInside ? 1 : 0;
    }
    Arrays.sort(ends);
    List<PourOdds> odds = new ArrayList<>();
    for (int i = 0; i < counts.length; i++) {
      Job job = pours.get(i).job();
      odds.add(new PourOdds(job.station(), job.pour(), counts[i][0], counts[i][1], counts[i][2]));
    }
    return new Odds(trials, inTime, allInside, odds, atShare(ends, 0.5), atShare(ends, 0.95));
  }

  private static int atShare(double[] sorted, double share) {
    int place = (int) Math.ceil(share * sorted.length) - 1;
    return (int) Math.ceil(sorted[Math.max(0, place)]);
  }

  private record Landed(boolean massInside, boolean startInside) {}

  /** One routine with dice. */
  private static final class Play {
    private final Work work;
    private final Spreads spreads;
    private final SplittableRandom dice;

    /** When each job really began and ended, and was planned to begin, by its id (s). */
    private final double[] began;

    private final double[] ended;
    private final int[] planned;
    private final List<Landed> landed = new ArrayList<>();
    private double hotAt;

    Play(Work work, Spreads spreads, SplittableRandom dice) {
      this.work = work;
      this.spreads = spreads;
      this.dice = dice;
      int ids = work.jobs.size() + Moves.MOST;
      this.began = new double[ids];
      this.ended = new double[ids];
      this.planned = new int[ids];
    }

    /** Plays all jobs; gives the end (s). */
    double run(List<Timetable.Slot> slots) {
      slots.forEach(slot -> planned[slot.job().id()] = slot.startSeconds());
      double free = 0;
      int place = Job.NO_STATION;
      Chore before = Chore.SPEAK;
      for (Timetable.Slot slot : slots) {
        // the timetable's own jobs may have been stretched for safety; these are the real ones
        Job job =
            slot.job().chore() == Chore.MOVE_SCALE
                ? Moves.real(work, slot.job())
                : work.jobs.get(slot.job().id());
        boolean isWalk =
            place != job.station() && job.chore() != Chore.SPEAK && before != Chore.SPEAK;
        double ready = free + (isWalk ? scattered(work.routine.hands().travel()) : 0);
        double[] times = isTimed(job) ? timed(job, ready) : plain(job, slot.startSeconds(), ready);
        began[job.id()] = times[0];
        ended[job.id()] = times[1];
        free = times[1];
        place = job.station();
        before = job.chore();
      }
      return free;
    }

    private static boolean isTimed(Job job) {
      return job.chore() == Chore.LIFT || (job.chore() == Chore.POUR && job.pour() > 1);
    }

    private double[] plain(Job job, int planned, double ready) {
      double begin = Math.max(ready, planned);
      if (job.chore() == Chore.POUR) {
        return pour(job, Math.max(begin, hotAt), 0);
      }
      double end = begin + scattered(job.seconds());
      if (job.chore() == Chore.REFILL) {
        hotAt = end + work.routine.kettle().reheatSeconds();
      }
      return new double[] {begin, end};
    }

    private double[] timed(Job job, double ready) {
      Work.Moment moment = work.moment(job);
      double fromBegan = began[moment.from().id()];
      double fromEnded = ended[moment.from().id()];
      boolean isDrain = job.chore() == Chore.LIFT || work.waitsForDrain(job);
      double due;
      if (isDrain) {
        double drain = work.drainSeconds(moment.from());
        due = fromEnded + Math.max(0, drain * (1 + spreads.drainPercent() / 100 * gauss()));
      } else {
        int after = moment.after();
        due =
            work.isAfterEnd(job) ? fromEnded + after - moment.from().seconds() : fromBegan + after;
      }
      int wait = planned[job.id()] - planned[moment.from().id()] - moment.after();
      double error = spreads.startSeconds() * gauss();
      double aim = due + wait + (isDrain ? Math.abs(error) : error);
      double begin = Math.max(ready, aim);
      if (job.chore() == Chore.LIFT) {
        return new double[] {begin, begin + scattered(job.seconds())};
      }
      return pour(job, Math.max(begin, hotAt), Math.max(begin, hotAt) - due);
    }

    private double[] pour(Job job, double begin, double startError) {
      double planned = work.planned(job).add().grams();
      double massError = spreads.pourGrams() * gauss();
      double flow =
          work.planned(job).flow().gramsPerSecond()
              * Math.max(0.2, 1 + spreads.flowPercent() / 100 * gauss());
      Tolerance tolerance = work.routine.stations().get(job.station()).plan().tolerance();
      landed.add(
          new Landed(
              Math.abs(massError) <= tolerance.mass().grams(),
              Math.abs(startError) <= tolerance.start().toNanos() / 1e9));
      return new double[] {begin, begin + Math.max(0, planned + massError) / flow};
    }

    private double scattered(double seconds) {
      return seconds * Math.max(0.2, 1 + spreads.chorePercent() / 100 * gauss());
    }

    private double gauss() {
      return dice.nextGaussian();
    }
  }
}
