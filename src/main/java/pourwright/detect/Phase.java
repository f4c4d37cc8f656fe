package pourwright.detect;

import java.util.Optional;
import org.jspecify.annotations.Nullable;
import pourwright.detect.PourEvent.Disturbed;
import pourwright.detect.PourEvent.DripperLifted;
import pourwright.detect.PourEvent.PourEnded;
import pourwright.detect.PourEvent.PourStarted;
import pourwright.detect.PourEvent.ReadingsMissed;
import pourwright.detect.PourEvent.Tared;
import pourwright.rig.Place;

/**
 * The phases of a brew on a scale that sees the water land. Each answers every bin of the signal;
 * none keeps memory of its own beyond its components, which change only at a transition.
 *
 * <p>{@code null} as an answer means: stay, nothing to say.
 */
sealed interface Phase {

  /** The answer to a new bin. */
  @Nullable Step on(Evidence e);

  /**
   * The answer to the first reading after a time without any; a gap is never flat.
   *
   * @param lastSeen last reading before the gap (s)
   * @param back first reading after it (s)
   */
  Step afterGap(Evidence e, double lastSeen, double back);

  Ledger ledger();

  Outlook.Doing doing();

  /**
   * Nothing flows and the weight is that of the rig, {@code since} then (s).
   *
   * @param level the weight when the rest began (g)
   */
  record Resting(Ledger ledger, double since, double level) implements Phase {
    static Resting from(Evidence e, Ledger ledger, double since) {
      return new Resting(ledger, since, e.mass());
    }

    @Override
    public @Nullable Step on(Evidence e) {
      if (Judgement.isTooFast(e) || Judgement.fell(e, since)) {
        double began =
            e.now() - Math.max(e.spanBefore(Judgement.JUMP_SECONDS), 2.5 * e.binSeconds());
        return Step.to(
            new Upset(ledger, began, Judgement.levelBefore(e, since, began), Double.NaN));
      }
      if (!Judgement.startsToFlow(e, since, grounds(e))) {
        return Judgement.tookCoffee(e, since, level, ledger)
            ? Step.to(from(e, ledger.with(Ledger.Grounds.IN), since))
            : null;
      }
      double base = Judgement.levelBefore(e, since, e.riseAt());
      double start = e.riseAt() - e.lag();
      double water = base - ledger.lastBase();
      if (start - ledger.lastStop() < Judgement.SAME_POUR_SECONDS && water > Judgement.LEAST_POUR) {
        return Step.to(new Pouring(ledger.resumed(water), start, ledger.lastBase()));
      }
      Ledger now = ledger.started();
      return Step.to(
          new Pouring(now, start, base),
          new PourStarted(now.pours(), e.moment(start), e.knownAt()));
    }

    /** A scale that shows a load nobody was seen to put there carries a rig with its coffee. */
    private Ledger.Grounds grounds(Evidence e) {
      boolean isLoaded = Math.abs(e.displayed(e.mass())) > e.mostDose();
      return isLoaded && ledger.grounds() == Ledger.Grounds.POSSIBLE
          ? Ledger.Grounds.IN
          : ledger.grounds();
    }

    @Override
    public Step afterGap(Evidence e, double lastSeen, double back) {
      double level = Judgement.levelBefore(e, since, lastSeen);
      return Step.to(Blind.at(e, ledger, lastSeen, back, level, false));
    }

    @Override
    public Outlook.Doing doing() {
      return Outlook.Doing.RESTING;
    }
  }

  /**
   * Water lands, counted from {@code base} (g).
   *
   * @param since the bins before belong to something else (s)
   */
  record Pouring(Ledger ledger, double since, double base) implements Phase {
    @Override
    public @Nullable Step on(Evidence e) {
      if (Judgement.isTooFast(e) || Judgement.dropped(e)) {
        double span = e.spanBefore(Judgement.JUMP_SECONDS);
        return Step.to(
            new Upset(ledger, e.now() - span, e.massBefore(Judgement.JUMP_SECONDS), base));
      }
      boolean isIdle = Judgement.isIdle(e, since);
      boolean hasStopped = !isIdle && Judgement.hasStopped(e, since);
      if (!isIdle && !hasStopped && !Judgement.isSpent(e, since)) {
        return null;
      }
      double bend = hasStopped ? e.stopAt() : isIdle ? since : e.now() - 2 * Judgement.IDLE_SECONDS;
      double stop = bend - e.lag();
      double water = (hasStopped ? e.stopLevel() : e.lineEnd()) - base;
      Resting rest =
          Resting.from(
              e,
              ledger.stopped(base, stop, water),
              Math.max(bend, e.now() - Judgement.REST_SECONDS));
      return ledger.endSaid()
          ? Step.to(rest)
          : Step.to(
              rest,
              new PourEnded(ledger.pours(), e.moment(stop), e.knownAt(), Evidence.grams(water)));
    }

    @Override
    public Step afterGap(Evidence e, double lastSeen, double back) {
      return Step.to(Blind.at(e, ledger, lastSeen, back, base, true));
    }

    @Override
    public Outlook.Doing doing() {
      return Outlook.Doing.POURING;
    }
  }

  /**
   * The weight left what water can do at {@code since} (s).
   *
   * @param before level then (g)
   * @param base level from which the running pour is counted (g); NaN when none was running
   */
  record Upset(Ledger ledger, double since, double before, double base) implements Phase {
    @Override
    public @Nullable Step on(Evidence e) {
      if (!Judgement.isSmooth(e, since)) {
        return null;
      }
      double span = e.now() - since;
      if (Judgement.flowsEvenly(e, since)) {
        return flowing(e, e.lineEnd() - e.lineSlope() * span - before);
      }
      if (!Judgement.isStill(e)) {
        return null;
      }
      double change = e.lineEnd() - before;
      if (Judgement.isTare(e, since, change)) {
        return tared(e, change);
      }
      if (Math.abs(change) < Judgement.sameLevel(e)) {
        Disturbance.Kind kind =
            span < Judgement.LONGEST_BUMP + Judgement.SMOOTH_SECONDS
                ? Disturbance.Kind.BUMP
                : Disturbance.Kind.LEAN;
        return settle(e, ledger, kind, 0);
      }
      if (!Double.isNaN(base)) {
        return change > 0 && change < Judgement.MOST_FLOW * span
            ? settle(e, ledger, Disturbance.Kind.BUMP, 0)
            : settle(e, ledger.placed(change), kindOf(change), change);
      }
      boolean isObject = change > 0 || -change <= ledger.placed() + Judgement.sameLevel(e);
      if (!isObject && ledger.pours() > 0 && -change >= Judgement.LEAST_LIFT) {
        return Step.to(new Aloft(ledger, since, before, e.lineEnd()));
      }
      Ledger now =
          ledger.pours() > 0 ? ledger.placed(change) : ledger.prepared(change, e.mostDose());
      return settle(e, now, kindOf(change), change);
    }

    private static Disturbance.Kind kindOf(double change) {
      return change > 0 ? Disturbance.Kind.OBJECT_PLACED : Disturbance.Kind.OBJECT_REMOVED;
    }

    private Step flowing(Evidence e, double change) {
      boolean isTare = e.isZeroedSince(since);
      double shift =
          isTare ? -e.zeroTook() : Math.abs(change) < Judgement.LEAST_OBJECT ? 0 : change;
      PourEvent what =
          isTare
              ? new Tared(
                  Place.WHOLE, e.moment(e.zeroedAt()), e.knownAt(), Evidence.grams(e.zeroTook()))
              : new Disturbed(
                  e.moment(since),
                  e.knownAt(),
                  e.knownAt(),
                  shift == 0 ? Disturbance.Kind.BUMP : kindOf(change));
      double even = e.now() - Judgement.SMOOTH_SECONDS;
      if (!Double.isNaN(base)) {
        return Step.to(new Pouring(ledger.shifted(shift), even, base + shift), what);
      }
      Ledger now = ledger.shifted(shift).started();
      return Step.to(
          new Pouring(now, even, before + shift),
          what,
          new PourStarted(now.pours(), e.moment(since), e.knownAt()));
    }

    private Step tared(Evidence e, double change) {
      boolean isAtOnce = e.isZeroedSince(since);
      double taken = isAtOnce ? e.zeroTook() : -change;
      double at = isAtOnce ? e.zeroedAt() : since;
      Tared event = new Tared(Place.WHOLE, e.moment(at), e.knownAt(), Evidence.grams(taken));
      double other = change + taken;
      double still = e.now() - Judgement.SMOOTH_SECONDS;
      double water = Double.isNaN(base) ? 0 : Judgement.MOST_FLOW * (e.now() - since);
      boolean isOnlyTare =
          other > -Judgement.LEAST_OBJECT && other < Judgement.LEAST_OBJECT + water;
      Ledger now = ledger.shifted(change).prepared(other, e.mostDose());
      Phase next =
          Double.isNaN(base)
              ? Resting.from(e, now, still)
              : new Pouring(now, still, base - taken + (isOnlyTare ? 0 : other));
      return isOnlyTare
          ? Step.to(next, event)
          : Step.to(
              next,
              new Disturbed(e.moment(since), e.moment(at), e.knownAt(), kindOf(other)),
              event);
    }

    private Step settle(Evidence e, Ledger now, Disturbance.Kind kind, double shift) {
      double until = e.now() - Judgement.SMOOTH_SECONDS;
      Disturbed event = new Disturbed(e.moment(since), e.moment(until), e.knownAt(), kind);
      return Double.isNaN(base)
          ? Step.to(Resting.from(e, now, until), event)
          : Step.to(new Pouring(now, until, base + shift), event);
    }

    @Override
    public Step afterGap(Evidence e, double lastSeen, double back) {
      return Step.to(
          Blind.at(
              e, ledger, lastSeen, back, Double.isNaN(base) ? before : base, !Double.isNaN(base)));
    }

    @Override
    public Outlook.Doing doing() {
      return Outlook.Doing.DISTURBED;
    }
  }

  /**
   * Much weight left at {@code since} (s): the dripper, unless it comes back.
   *
   * @param before level then (g)
   * @param after level now (g)
   */
  record Aloft(Ledger ledger, double since, double before, double after) implements Phase {
    @Override
    public @Nullable Step on(Evidence e) {
      if (Judgement.isTooFast(e) || Judgement.rose(e, after)) {
        return Step.to(new Upset(ledger, since, before, Double.NaN));
      }
      if (e.now() - since < Judgement.PUT_BACK_SECONDS) {
        return null;
      }
      return Step.to(
          new Lifted(ledger),
          new DripperLifted(
              e.moment(since), e.knownAt(), Evidence.grams(before - after), Optional.empty()));
    }

    @Override
    public Step afterGap(Evidence e, double lastSeen, double back) {
      return Step.to(this);
    }

    @Override
    public Outlook.Doing doing() {
      return Outlook.Doing.DISTURBED;
    }
  }

  /** The dripper is off; what comes now is not the brew. */
  record Lifted(Ledger ledger) implements Phase {
    @Override
    public @Nullable Step on(Evidence e) {
      return null;
    }

    @Override
    public Step afterGap(Evidence e, double lastSeen, double back) {
      return Step.to(this);
    }

    @Override
    public Outlook.Doing doing() {
      return Outlook.Doing.LIFTED;
    }
  }

  /**
   * Readings have come back after a gap and what happened in it is not clear yet.
   *
   * @param since last reading before the gap (s)
   * @param back first reading after it (s)
   * @param level before it, or the base of the running pour (g)
   * @param isPouring whether a pour was running
   * @param massThen last mass before it (g)
   * @param flowThen flow before it (g/s)
   */
  record Blind(
      Ledger ledger,
      double since,
      double back,
      double level,
      boolean isPouring,
      double massThen,
      double flowThen)
      implements Phase {

    static Blind at(
        Evidence e, Ledger ledger, double since, double back, double level, boolean isPouring) {
      boolean isKnown = e.fitLine(since - 1, 3);
      double flow = isKnown ? Math.max(e.lineSlope(), Judgement.LEAST_FLOW) : Judgement.LEAST_FLOW;
      return new Blind(ledger, since, back, level, isPouring, e.mass(), flow);
    }

    @Override
    public @Nullable Step on(Evidence e) {
      if (!Judgement.isSmooth(e, back)) {
        return null;
      }
      double gained = e.lineEnd() - level;
      boolean flows = e.lineSlope() > Judgement.LEAST_FLOW + 2 * e.lineSlopeError();
      if (!flows && !Judgement.isStill(e)) {
        return null;
      }
      if (gained < -Judgement.LEAST_OBJECT) {
        return Step.to(new Upset(ledger, since, level, Double.NaN));
      }
      if (isPouring && flows) {
        return Step.to(new Pouring(ledger, back, level));
      }
      if (isPouring) {
        double inGap = (e.lineEnd() - massThen) / flowThen;
        return ended(e, ledger, Math.min(back, since + Math.max(0, inGap)), gained);
      }
      if (gained > Judgement.LEAST_POUR) {
        Ledger now = ledger.started();
        PourStarted started = new PourStarted(now.pours(), e.moment(since), e.knownAt());
        if (flows) {
          return Step.to(new Pouring(now, back, level), started);
        }
        Step end = ended(e, now, back, gained);
        return Step.to(end.next(), started, end.events().get(0));
      }
      return Step.to(Resting.from(e, ledger, back));
    }

    private Step ended(Evidence e, Ledger now, double stop, double water) {
      Resting rest = Resting.from(e, now.stopped(level, stop, water), back);
      return now.endSaid()
          ? Step.to(rest)
          : Step.to(
              rest, new PourEnded(now.pours(), e.moment(stop), e.knownAt(), Evidence.grams(water)));
    }

    @Override
    public Step afterGap(Evidence e, double lastSeen, double backAgain) {
      return Step.to(new Blind(ledger, since, backAgain, level, isPouring, massThen, flowThen));
    }

    @Override
    public Outlook.Doing doing() {
      return Outlook.Doing.BLIND;
    }
  }

  /** Announces a gap with whatever the phase makes of it. */
  static ReadingsMissed missed(Place place, Evidence e, double lastSeen) {
    return new ReadingsMissed(place, e.moment(lastSeen), e.knownAt());
  }
}
