package pourwright.simulate;

import java.util.List;
import java.util.SplittableRandom;
import pourwright.plan.PlannedPour;
import pourwright.plan.Start;

/** The hand at the kettle: when it pours, how fast, and when it stops. */
final class Brewer {
  /** Two pours are never closer than this, or they would be one (s). */
  private static final double LEAST_GAP_SECONDS = 3.2;

  /** How long the flow remembers a wander (s). */
  private static final double WANDER_SECONDS = 0.6;

  /** A bed that does not drain is not waited for longer than this past its time (s). */
  private static final double PATIENCE_SECONDS = 20;

  /**
   * Where no scale weighs the outflow, the bed may shift a pour by this much against the clock (s).
   */
  private static final double LEEWAY_SECONDS = 0.8;

  /** How well a brewer judges a pour that no scale shows. */
  private static final double EYE_SPREAD = 0.02;

  private enum Doing {
    WAITING,
    POURING,
    REACTING,
    STOPPING,
    DONE
  }

  private final List<PlannedPour> pours;
  private final Skill skill;
  private final SplittableRandom random;
  private final boolean followsBed;
  private final double firstSeconds;
  private final double fallSeconds;
  private final double pushSeconds;
  private final double lagSeconds;

  private Doing doing = Doing.WAITING;
  private int index;
  private double startsAt = Double.NaN;
  private double lastEnd = Double.NaN;
  private double drainedAt = Double.NaN;
  private double since;
  private double meanFlow;
  private double stopFlow;
  private double wander;
  private double mark;
  private double shownAtStart;
  private double sentGrams;
  private double eye = 1;

  /**
   * @param followsBed whether a pour that waits for the bed waits as long as it takes; else it
   *     stays near its time on the clock
   * @param firstSeconds when the first pour is meant to land (s)
   * @param lagSeconds of the display that is watched (s)
   */
  Brewer(
      List<PlannedPour> pours,
      Skill skill,
      SplittableRandom random,
      boolean followsBed,
      double firstSeconds,
      double fallSeconds,
      double pushSeconds,
      double lagSeconds) {
    this.pours = pours;
    this.skill = skill;
    this.random = random;
    this.followsBed = followsBed;
    this.firstSeconds = firstSeconds;
    this.fallSeconds = fallSeconds;
    this.pushSeconds = pushSeconds;
    this.lagSeconds = lagSeconds;
  }

  /**
   * The flow at the spout (g/s).
   *
   * @param now the present (s)
   * @param step since the last call (s)
   * @param shownGrams what the display shows; not a number where no display shows pours
   */
  double flow(double now, double step, double shownGrams) {
    if (doing == Doing.WAITING) {
      if (Double.isNaN(startsAt)) {
        startsAt = startOf(pours.get(index), now);
      }
      if (Double.isNaN(startsAt) || now < startsAt) {
        return 0;
      }
      begin(now, shownGrams);
    }
    if (doing == Doing.DONE) {
      return 0;
    }
    return moveOn(now, step, shownGrams);
  }

  private void begin(double now, double shownGrams) {
    PlannedPour pour = pours.get(index);
    doing = Doing.POURING;
    since = now;
    double planned = pour.flow().gramsPerSecond();
    meanFlow =
        planned * Math.max(0.3, 1 + skill.flowBias() + skill.flowSpread() * random.nextGaussian());
    wander = 0;
    sentGrams = 0;
    shownAtStart = shownGrams;
    boolean seesScale = !Double.isNaN(shownGrams);
    eye = seesScale ? 1 : 1 + EYE_SPREAD * random.nextGaussian();
    double stillToCome = skill.reactionSeconds() + skill.rampDownSeconds() / 2;
    double seenLate = seesScale ? lagSeconds + fallSeconds - pushSeconds : 0;
    mark =
        pour.add().grams()
            + skill.massSpreadGrams() * random.nextGaussian()
            - skill.anticipation() * meanFlow * (stillToCome + seenLate);
  }

  private double moveOn(double now, double step, double shownGrams) {
    double age = now - since;
    double decay = Math.exp(-step / WANDER_SECONDS);
    wander = decay * wander + Math.sqrt(1 - decay * decay) * random.nextGaussian();
    double flow =
        meanFlow * Math.max(0.1, 1 + skill.wander() * wander) * ease(age / skill.rampUpSeconds());
    double seen = Double.isNaN(shownGrams) ? eye * sentGrams : shownGrams - shownAtStart;
    if (doing == Doing.POURING && seen >= mark) {
      doing = Doing.REACTING;
      startsAt = now + skill.reactionSeconds();
    }
    if (doing == Doing.REACTING && now >= startsAt) {
      doing = Doing.STOPPING;
      stopFlow = flow;
    }
    if (doing == Doing.STOPPING) {
      flow = stopFlow * (1 - ease((now - startsAt) / skill.rampDownSeconds()));
      if (flow <= 0) {
        finish(now);
      }
    }
    sentGrams += flow * step;
    return Math.max(0, flow);
  }

  private void finish(double now) {
    lastEnd = now + fallSeconds;
    drainedAt = Double.NaN;
    startsAt = Double.NaN;
    index++;
    doing = index < pours.size() ? Doing.WAITING : Doing.DONE;
  }

  /** When to open the kettle for {@code pour}; not a number while that cannot be said. */
  private double startOf(PlannedPour pour, double now) {
    double due = dueOf(pour.start(), now);
    if (Double.isNaN(due)) {
      return due;
    }
    double late =
        index == 0
            ? 0
            : skill.startBiasSeconds() + skill.startSpreadSeconds() * random.nextGaussian();
    double start = Math.max(now, due + late - fallSeconds);
    return Double.isNaN(lastEnd) ? start : Math.max(start, lastEnd + LEAST_GAP_SECONDS);
  }

  private double dueOf(Start start, double now) {
    if (start instanceof Start.AtClock clock) {
      return firstSeconds + clock.at().seconds();
    }
    if (start instanceof Start.AfterEnd after) {
      double gap = after.gap().toNanos() * 1e-9;
      return (Double.isNaN(lastEnd) ? firstSeconds : lastEnd) + gap;
    }
    double expected = firstSeconds + ((Start.WhenDrained) start).expected().seconds();
    if (followsBed) {
      return now > expected + PATIENCE_SECONDS ? now : drainedAt;
    }
    if (now >= expected + LEEWAY_SECONDS) {
      return now;
    }
    return Double.isNaN(drainedAt) ? Double.NaN : Math.max(drainedAt, expected - LEEWAY_SECONDS);
  }

  /** The bed ran dry, and the brewer sees it. */
  void sawBedDry(double now) {
    drainedAt = now;
  }

  boolean isDone() {
    return doing == Doing.DONE;
  }

  /** From 0 to 1 without a jerk. */
  private static double ease(double share) {
    if (share >= 1) {
      return 1;
    }
    return share <= 0 ? 0 : share * share * (3 - 2 * share);
  }
}
