package pourwright.stage;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.chocosolver.solver.Model;
import org.chocosolver.solver.Solver;
import org.chocosolver.solver.constraints.Constraint;
import org.chocosolver.solver.exception.ContradictionException;
import org.chocosolver.solver.search.limits.FailCounter;
import org.chocosolver.solver.search.strategy.Search;
import org.chocosolver.solver.search.strategy.selectors.values.IntDomainMin;
import org.chocosolver.solver.search.strategy.selectors.variables.Smallest;
import org.chocosolver.solver.search.strategy.strategy.AbstractStrategy;
import org.chocosolver.solver.variables.BoolVar;
import org.chocosolver.solver.variables.IntVar;
import org.chocosolver.solver.variables.Task;

/**
 * The routine as a constraint model: one start for each job, one pair of hands, and the rules.
 *
 * <p>Whatever the rules, a bed is poured in order, two of its pours lie at least {@link
 * #LEAST_GAP_SECONDS} apart, and nothing drips into a served cup.
 *
 * <p>Two forms: <em>punctual</em>, in which every pour and lift comes at its moment, so that a
 * brewer is one fixed pattern with one unknown, its first pour; and <em>free</em>, in which each
 * job has a start of its own. When the punctual form has a timetable, none of the free form is
 * better, since being on time is the first wish.
 */
final class StageModel {
  static final int LEAST_GAP_SECONDS = 3;
  static final int SWIRL_WITHIN_SECONDS = 5;
  private static final int RESTART_FAILS = 500;

  private final Work work;
  private final List<Rule> rules;
  private final boolean isPunctual;
  private final Model model = new Model();
  private final int horizon;
  private final IntVar[] start;

  /** What is branched on first: the first pours. */
  private final List<IntVar> anchors = new ArrayList<>();

  private final List<IntVar> offs = new ArrayList<>();
  private final List<BoolVar> orders = new ArrayList<>();
  private final List<IntVar> served = new ArrayList<>();
  private final IntVar late;
  private final IntVar apart;
  private final IntVar end;

  /**
   * What a search came to.
   *
   * @param isComplete false when time ran out
   */
  record Answer(Optional<Timetable> timetable, boolean isComplete) {}

  /** Busy hands whose times to each other are fixed, from one unknown start. */
  private record Pattern(int station, IntVar start, List<Apart.Busy> busy) {
    boolean isOneJob() {
      return busy.size() == 1;
    }

    Job job() {
      return busy.get(0).job();
    }
  }

  private StageModel(Work work, List<Rule> rules, boolean isPunctual) {
    this.work = work;
    this.rules = rules;
    this.isPunctual = isPunctual;
    int endBy =
        rules.stream().anyMatch(Rule.EndInTime.class::isInstance)
            ? work.routine.endBySeconds()
            : work.generousHorizon();
    this.horizon = Math.max(endBy, 1);
    this.start = new IntVar[work.jobs.size()];
    List<Pattern> patterns = new ArrayList<>();
    for (int station = 0; station < work.chains.size(); station++) {
      patterns.addAll(patterns(station));
    }
    for (Job job : work.jobs) {
      if (job.station() == Job.NO_STATION) {
        patterns.add(lone(job));
      }
    }
    chains();
    speeches();
    onePairOfHands(patterns);
    kettle();
    order();
    this.late = model.intVar("late", 0, offs.size() * horizon);
    model.sum(offs.toArray(new IntVar[0]), "=", late).post();
    this.apart = apart();
    for (Rule rule : rules) {
      if (rule instanceof Rule.ServedTogether together) {
        atMost(Wish.TOGETHER, together.seconds());
      }
    }
    this.end = model.intVar("end", 0, horizon);
    model.max(end, ends()).post();
  }

  /** Every pour and lift at its moment. */
  static StageModel punctual(Work work, List<Rule> rules) {
    return new StageModel(work, rules, true);
  }

  /** Pours and lifts as far off their moments as the rules allow. */
  static StageModel free(Work work, List<Rule> rules) {
    return new StageModel(work, rules, false);
  }

  /** Makes the starts of a brewer's jobs. */
  private List<Pattern> patterns(int station) {
    List<Pattern> patterns = new ArrayList<>();
    List<Apart.Busy> fixed = new ArrayList<>();
    IntVar first = lone(work.pour(station, 1)).start();
    anchors.add(first);
    for (Job job : work.chains.get(station)) {
      boolean isTimed = job.chore() == Chore.POUR || job.chore() == Chore.LIFT;
      if (isPunctual && isTimed) {
        int offset = work.punctualOffset(job);
        fixed.add(new Apart.Busy(job, offset));
        start[job.id()] = offset == 0 ? first : model.intView(1, first, offset);
      } else if (job.chore() == Chore.POUR && job.pour() == 1) {
        patterns.add(new Pattern(station, first, List.of(new Apart.Busy(job, 0))));
      } else {
        patterns.add(lone(job));
      }
    }
    if (!fixed.isEmpty()) {
      patterns.add(new Pattern(station, first, fixed));
      Apart.Busy last = fixed.get(fixed.size() - 1);
      model.arithm(first, "<=", horizon - last.offset() - last.job().seconds()).post();
    }
    return patterns;
  }

  private Pattern lone(Job job) {
    IntVar begins = model.intVar("s" + job.id(), 0, Math.max(0, horizon - job.seconds()));
    if (job.seconds() > horizon) {
      model.falseConstraint().post();
    }
    start[job.id()] = begins;
    return new Pattern(job.station(), begins, List.of(new Apart.Busy(job, 0)));
  }

  /** Only timetables with at most so many seconds in the terms of a wish are accepted. */
  StageModel atMost(Wish wish, int seconds) {
    model.arithm(secondsOf(wish), "<=", seconds).post();
    if (wish == Wish.TOGETHER) {
      // as differences of pairs, which propagate where the smallest and the largest do not
      for (IntVar one : served) {
        for (IntVar other : served) {
          if (one != other) {
            model.arithm(one, "-", other, "<=", seconds).post();
          }
        }
      }
    }
    return this;
  }

  /** Only timetables with these starts are accepted (s). */
  StageModel withStarts(Map<Job, Integer> seconds) {
    seconds.forEach(
        (job, begin) -> {
          if (job.chore() != Chore.MOVE_SCALE) {
            model.arithm(start[job.id()], "=", begin).post();
          }
        });
    return this;
  }

  /**
   * No timetable has fewer seconds than this, as far as a first look tells; none needs searching.
   */
  int atLeast(Wish wish) {
    try {
      model.getSolver().propagate();
    } catch (ContradictionException clash) {
      return Integer.MAX_VALUE;
    }
    return secondsOf(wish).getLB();
  }

  private IntVar secondsOf(Wish wish) {
    return switch (wish) {
      case ON_TIME -> late;
      case TOGETHER -> apart;
      case SHORT -> end;
    };
  }

  /**
   * Any timetable, or that there is none.
   *
   * <p>Once it is fixed which job comes before which, and by how much each pour is off, only
   * differences of times are left, and of those the earliest starts always fit together: such
   * constraints are closed under minima. So order and offsets are what is branched on.
   */
  Answer any(Patience patience) {
    Solver solver = model.getSolver();
    List<IntVar> choices = new ArrayList<>(offs);
    choices.addAll(orders);
    IntVar[] firsts = anchors.toArray(new IntVar[0]);
    List<AbstractStrategy<?>> strategies = new ArrayList<>();
    if (isPunctual) {
      strategies.add(Search.intVarSearch(new Smallest(), new IntDomainMin(), firsts));
    }
    if (!choices.isEmpty()) {
      strategies.add(Search.domOverWDegSearch(choices.toArray(new IntVar[0])));
    }
    strategies.add(Search.intVarSearch(new Smallest(), new IntDomainMin(), start));
    strategies.add(Search.inputOrderLBSearch(late, apart, end));
    solver.setSearch(strategies.toArray(new AbstractStrategy<?>[0]));
    solver.setNoGoodRecordingFromRestarts();
    solver.setLubyRestart(RESTART_FAILS, new FailCounter(model, 0), Integer.MAX_VALUE);
    solver.addStopCriterion(patience::isOver);
    if (solver.solve()) {
      return new Answer(Optional.of(timetable()), true);
    }
    return new Answer(Optional.empty(), !solver.isStopCriterionMet());
  }

  private Timetable timetable() {
    List<Timetable.Slot> slots = new ArrayList<>();
    for (Job job : work.jobs) {
      slots.add(new Timetable.Slot(job, start[job.id()].getValue()));
    }
    slots.sort(
        Comparator.comparingInt(Timetable.Slot::startSeconds).thenComparing(s -> s.job().id()));
    return new Timetable(slots, late.getValue(), apart.getValue(), end.getValue());
  }

  private void chains() {
    for (int station = 0; station < work.chains.size(); station++) {
      List<Job> chain = work.chains.get(station);
      for (int i = 1; i < chain.size(); i++) {
        Job before = chain.get(i - 1);
        Job job = chain.get(i);
        atLeastAfter(before, job, 0);
        if (job.chore() == Chore.SWIRL) {
          model
              .arithm(
                  start[job.id()],
                  "-",
                  start[before.id()],
                  "<=",
                  before.seconds() + SWIRL_WITHIN_SECONDS)
              .post();
        } else if (job.chore() == Chore.LIFT && !isPunctual) {
          lift(station, job);
        } else if (job.chore() == Chore.POUR && job.pour() > 1) {
          atLeastAfter(work.pour(station, job.pour() - 1), job, LEAST_GAP_SECONDS);
          if (!isPunctual) {
            pour(job);
          }
        }
      }
    }
  }

  private void pour(Job job) {
    boolean isRule =
        rules.stream()
            .anyMatch(
                rule ->
                    rule instanceof Rule.PourInTime one
                        && one.station() == job.station()
                        && one.pour() == job.pour());
    Work.Moment moment = work.moment(job);
    if (work.waitsForDrain(job)) {
      waits(job, moment, isRule);
      return;
    }
    int most = isRule ? work.toleranceSeconds(job.station()) : horizon;
    IntVar distance = model.intVar(-most, most);
    // start = start of the reference + its moment + distance
    model
        .scalar(
            new IntVar[] {start[job.id()], start[moment.from().id()], distance},
            new int[] {1, -1, -1},
            "=",
            moment.after())
        .post();
    IntVar off = model.intVar(0, most);
    model.absolute(off, distance).post();
    offs.add(off);
  }

  private void lift(int station, Job job) {
    boolean isRule =
        rules.stream()
            .anyMatch(rule -> rule instanceof Rule.LiftInTime one && one.station() == station);
    waits(job, work.moment(job), isRule);
  }

  /** {@code job} begins at its moment, or waits. */
  private void waits(Job job, Work.Moment moment, boolean isRule) {
    IntVar wait = model.intVar(0, isRule ? work.routine.patienceSeconds() : horizon);
    model
        .scalar(
            new IntVar[] {start[job.id()], start[moment.from().id()], wait},
            new int[] {1, -1, -1},
            "=",
            moment.after())
        .post();
    offs.add(wait);
  }

  private void speeches() {
    for (Rule rule : rules) {
      if (rule instanceof Rule.SpeakInTime speak) {
        Speech speech = work.routine.speeches().get(speak.speech());
        IntVar begins = start[work.speeches.get(speak.speech()).id()];
        model.arithm(begins, ">=", speech.earliest()).post();
        model.arithm(begins, "<=", speech.latest()).post();
      }
    }
  }

  private void onePairOfHands(List<Pattern> patterns) {
    Task[] tasks = new Task[work.jobs.size()];
    IntVar[] ones = new IntVar[tasks.length];
    for (Job job : work.jobs) {
      tasks[job.id()] = new Task(start[job.id()], job.seconds());
      ones[job.id()] = model.intVar(1);
    }
    model.cumulative(tasks, ones, model.intVar(1)).post();
    for (int i = 0; i < patterns.size(); i++) {
      for (int j = i + 1; j < patterns.size(); j++) {
        handsApart(patterns.get(i), patterns.get(j));
      }
    }
  }

  private void handsApart(Pattern one, Pattern other) {
    boolean isOneChain = one.station() == other.station() && one.station() != Job.NO_STATION;
    boolean areRefills = one.job().chore() == Chore.REFILL && other.job().chore() == Chore.REFILL;
    if (isOneChain || areRefills) {
      return; // their order is fixed
    }
    if (one.isOneJob() && other.isOneJob()) {
      Job a = one.job();
      Job b = other.job();
      BoolVar first = model.boolVar();
      orders.add(first);
      apartFrom(a, b, work.travel(a, b)).reifyWith(first);
      apartFrom(b, a, work.travel(b, a)).reifyWith(first.not());
    } else {
      new Constraint(
              "apart",
              new Apart(
                  one.start(), other.start(), Apart.forbidden(work, one.busy(), other.busy())))
          .post();
    }
  }

  private void kettle() {
    if (rules.stream().noneMatch(Rule.KettleSuffices.class::isInstance)) {
      return;
    }
    List<Job> pours = work.jobs.stream().filter(job -> job.chore() == Chore.POUR).toList();
    int usable = work.usableGrams();
    int[] grams = pours.stream().mapToInt(Job::grams).toArray();
    int reheat = work.routine.kettle().reheatSeconds();
    int[] all = new int[2 * grams.length];
    for (int i = 0; i < grams.length; i++) {
      all[i] = grams[i];
      all[grams.length + i] = -grams[i];
    }
    BoolVar[] done = falses(grams.length);
    for (int r = 0; r < work.refills.size(); r++) {
      Job refill = work.refills.get(r);
      if (r > 0) {
        Job before = work.refills.get(r - 1);
        atLeastAfter(before, refill, reheat);
      }
      BoolVar[] until = new BoolVar[grams.length];
      for (int p = 0; p < grams.length; p++) {
        until[p] = model.boolVar();
        orders.add(until[p]);
        apartFrom(pours.get(p), refill, 0).reifyWith(until[p]);
        apartFrom(refill, pours.get(p), reheat).reifyWith(until[p].not());
      }
      between(done, until, all, usable);
      done = until;
    }
    BoolVar[] ends = new BoolVar[grams.length];
    java.util.Arrays.setAll(ends, i -> model.boolVar(true));
    between(done, ends, all, usable);
  }

  /** Water poured after {@code done} and up to {@code until} fits into the kettle. */
  private void between(BoolVar[] done, BoolVar[] until, int[] grams, int usable) {
    IntVar[] both = new IntVar[2 * until.length];
    System.arraycopy(until, 0, both, 0, until.length);
    System.arraycopy(done, 0, both, until.length, done.length);
    model.scalar(both, grams, "<=", usable).post();
  }

  private BoolVar[] falses(int count) {
    BoolVar[] none = new BoolVar[count];
    java.util.Arrays.setAll(none, i -> model.boolVar(false));
    return none;
  }

  private void order() {
    if (rules.stream().noneMatch(Rule.LeftToRight.class::isInstance)) {
      return;
    }
    for (int station = 1; station < work.chains.size(); station++) {
      Job left = work.pour(station - 1, 1);
      Job right = work.pour(station, 1);
      atLeastAfter(left, right, 0);
    }
  }

  private IntVar apart() {
    for (List<Job> chain : work.chains) {
      chain.stream()
          .filter(job -> job.chore() == Chore.SERVE)
          .forEach(job -> served.add(start[job.id()]));
    }
    if (served.size() < 2) {
      return model.intVar(0);
    }
    IntVar[] all = served.toArray(new IntVar[0]);
    IntVar first = model.intVar(0, horizon);
    IntVar last = model.intVar(0, horizon);
    model.min(first, all).post();
    model.max(last, all).post();
    IntVar between = model.intVar(Math.min(horizon, work.leastApart()), horizon);
    model.arithm(last, "-", first, "=", between).post();
    return between;
  }

  private IntVar[] ends() {
    IntVar[] ends = new IntVar[work.jobs.size()];
    for (Job job : work.jobs) {
      ends[job.id()] = model.intView(1, start[job.id()], job.seconds());
    }
    return ends;
  }

  private void atLeastAfter(Job before, Job after, int gap) {
    apartFrom(before, after, gap).post();
  }

  private Constraint apartFrom(Job before, Job after, int gap) {
    return model.arithm(start[after.id()], "-", start[before.id()], ">=", before.seconds() + gap);
  }
}
