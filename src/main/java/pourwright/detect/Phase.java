package pourwright.detect;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import pourwright.detect.PourEvent.Discarded;
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
sealed interface Phase
    permits Phase.Resting,
        Phase.Coming,
        Phase.Pouring,
        Upset,
        Phase.Aloft,
        Phase.Lifted,
        Phase.Blind {

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
      if (!Judgement.startsToFlow(e, since, ledger)) {
        return Judgement.tookCoffee(e, since, level, ledger)
            ? Step.to(from(e, ledger.with(Ledger.Grounds.IN), since))
            : null;
      }
      double base = Judgement.levelBefore(e, since, e.riseAt());
      double start = e.riseAt() - e.lag();
      Ledger.Grounds grounds = grounds(e);
      double flow = Judgement.heading(e);
      if (Judgement.mayBeCoffee(e, e.mass() - base, flow, grounds)) {
        return Step.to(new Coming(ledger, start, base, level, flow, grounds));
      }
      double water = base - ledger.last().base();
      if (start - ledger.last().stop() < Judgement.SAME_POUR_SECONDS
          && water > Judgement.LEAST_POUR) {
        return Step.to(new Pouring(ledger.resumed(water), start, ledger.last().base()));
      }
      return Pouring.started(e, ledger, start, base);
    }

    private Ledger.Grounds grounds(Evidence e) {
      return ledger.pours() > 0
          ? Ledger.Grounds.IN
          : Judgement.grounds(e, ledger, e.displayed(e.mass()));
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
   * Before the first pour something comes that may be ground coffee: not said to be water until it
   * has brought more than a dose.
   *
   * @param start when it began (s)
   * @param base level before it (g)
   * @param level level before all that may be coffee (g)
   * @param flow to which it seemed to tend at first (g/s)
   * @param grounds what is known of the coffee
   */
  record Coming(
      Ledger ledger, double start, double base, double level, double flow, Ledger.Grounds grounds)
      implements Phase {
    @Override
    public @Nullable Step on(Evidence e) {
      if (Judgement.isTooFast(e) || Judgement.dropped(e)) {
        return Step.to(new Upset(ledger, start, level, Double.NaN));
      }
      boolean isOver = Judgement.hasStopped(e, start) || Judgement.dwindles(e, start);
      if (isOver) {
        return Step.to(new Resting(ledger, e.now() - Judgement.REST_SECONDS, level));
      }
      double came = e.mass() - base;
      if (!Judgement.stillRises(e, start, came / (e.now() - start))) {
        return null;
      }
      // the faster of then and now: a slow scale shows a flow late
      return Judgement.mayBeCoffee(e, came, Math.max(flow, e.lineSlope()), grounds)
          ? null
          : Pouring.started(e, ledger, start, base);
    }

    @Override
    public Step afterGap(Evidence e, double lastSeen, double back) {
      return Step.to(Blind.at(e, ledger, lastSeen, back, base, false));
    }

    @Override
    public Outlook.Doing doing() {
      return Outlook.Doing.SETTLING;
    }
  }

  /**
   * Water lands, counted from {@code base} (g).
   *
   * @param since the bins before belong to something else (s)
   */
  record Pouring(Ledger ledger, double since, double base) implements Phase {
    /** No pour goes on unseen for so long; what is more after it is another (s). Own choice. */
    static final double LONGEST_GAP_SECONDS = 15;

    static Step started(Evidence e, Ledger ledger, double start, double base) {
      Ledger now = ledger.started(start);
      return Step.to(
          new Pouring(now, start, base),
          new PourStarted(now.pours(), e.moment(start), e.knownAt()));
    }

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
      // what was no water ends before it began, by the lag and by what was fitted to it
      double stop = Math.max(bend - e.lag(), ledger.last().start());
      double water = (hasStopped ? e.stopLevel() : e.lineEnd()) - base;
      double until = Math.max(bend, e.now() - Judgement.REST_SECONDS);
      Ledger now = ledger.stopped(base, stop, water);
      if (Judgement.isTheDose(e, now)) {
        // the coffee trickled in like water
        Resting before = Resting.from(e, now.discarded(Ledger.Grounds.IN), until);
        return Step.to(before, new Discarded(e.moment(stop), e.knownAt()))
            .after(Phase.ended(e, ledger, stop, water, before).events());
      }
      return Phase.ended(e, ledger, stop, water, Resting.from(e, now, until));
    }

    @Override
    public Step afterGap(Evidence e, double lastSeen, double back) {
      return torn(e, ledger, lastSeen, back, base, e.mass());
    }

    /**
     * A pour that readings stopped in: it may go on after a short gap; in a long one it ended.
     *
     * @param level the last that was seen of it (g)
     */
    static Step torn(
        Evidence e, Ledger ledger, double lastSeen, double back, double base, double level) {
      if (back - lastSeen < LONGEST_GAP_SECONDS) {
        return Step.to(Blind.at(e, ledger, lastSeen, back, base, true));
      }
      double water = level - base;
      Blind blind =
          Blind.at(e, ledger.stopped(base, lastSeen, water), lastSeen, back, level, false);
      return Phase.ended(e, ledger, lastSeen, water, blind);
    }

    @Override
    public Outlook.Doing doing() {
      return Outlook.Doing.POURING;
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
          new Lifted(ledger, since, before, after),
          new DripperLifted(
              e.moment(since),
              e.knownAt(),
              Evidence.grams(before - after),
              e.findBeverage(ledger, after, before - after)));
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

  /**
   * The dripper is off; what comes now is not the brew, unless it is put back.
   *
   * @param since when it left (s)
   * @param before level then (g)
   * @param after level without it (g)
   */
  record Lifted(Ledger ledger, double since, double before, double after) implements Phase {
    @Override
    public @Nullable Step on(Evidence e) {
      double aloft = since + Judgement.PUT_BACK_SECONDS;
      double taken = e.zeroTook(aloft);
      boolean isBack =
          e.mass() + taken - after > Judgement.BACK_SHARE * (before - after)
              && Judgement.isSmooth(e, since)
              && Judgement.isStill(e);
      if (!isBack) {
        return null;
      }
      double gone = before - taken - e.lineEnd();
      Ledger tared = ledger.shifted(-taken).tared(taken);
      double until = e.now() - Judgement.SMOOTH_SECONDS;
      Step back =
          Judgement.isEmptied(ledger, gone)
              ? emptied(e, tared, since)
              : Step.to(Resting.from(e, tared.placed(-gone), until), putBack(e, since, until));
      return back.after(tares(e, aloft));
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
        return restedUnseen(e) ? another(e) : Step.to(new Pouring(ledger, back, level));
      }
      if (isPouring) {
        double inGap = (e.lineEnd() - massThen) / flowThen;
        return ended(e, ledger, Math.min(back, since + Math.max(0, inGap)), gained);
      }
      if (gained > Judgement.LEAST_POUR) {
        double start = flows ? Math.max(since, e.now() - e.lag() - gained / e.lineSlope()) : since;
        Ledger now = ledger.started(start);
        PourStarted started = new PourStarted(now.pours(), e.moment(start), e.knownAt());
        if (flows) {
          return Step.to(new Pouring(now, back, level), started);
        }
        Step end = ended(e, now, back, gained);
        return Step.to(end.next(), started, end.events().get(0));
      }
      return Step.to(Resting.from(e, ledger, back));
    }

    /** Mass when readings came back, by the line fitted last (g). */
    private double massBack(Evidence e) {
      return e.lineEnd() - e.lineSlope() * (e.now() - back);
    }

    /** Whether too little came in the gap for water that flowed all but a pause, however slow. */
    private boolean restedUnseen(Evidence e) {
      double flowed = (massBack(e) - massThen) / Math.min(flowThen, e.lineSlope());
      return back - since - Math.max(0, flowed) > Judgement.SAME_POUR_SECONDS;
    }

    /** One pour ended in the gap and another began; what came in it is shared out evenly. */
    private Step another(Evidence e) {
      double share = Math.max(0, massBack(e) - massThen) / 2;
      double stop = since + share / flowThen;
      double base = massThen + share;
      double start = Math.max(stop, back - share / e.lineSlope());
      Step next = Pouring.started(e, ledger.stopped(level, stop, base - level), start, base);
      return next.after(Phase.ended(e, ledger, stop, base - level, this).events());
    }

    private Step ended(Evidence e, Ledger now, double stop, double water) {
      Resting rest = Resting.from(e, now.stopped(level, stop, water), back);
      return Phase.ended(e, now, stop, water, rest);
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

  /**
   * The pour has ended, which is said once.
   *
   * @param ledger as it was while it ran
   * @param stop when it ended (s)
   * @param water it brought (g)
   */
  static Step ended(Evidence e, Ledger ledger, double stop, double water, Phase next) {
    return ledger.last().endSaid()
        ? Step.to(next)
        : Step.to(
            next,
            new PourEnded(ledger.pours(), e.moment(stop), e.knownAt(), Evidence.grams(water)));
  }

  /** The rig came back without the water that had been poured. */
  static Step emptied(Evidence e, Ledger ledger, double since) {
    double until = e.now() - Judgement.SMOOTH_SECONDS;
    return Step.to(
        Resting.from(e, ledger.discarded(Ledger.Grounds.EXPECTED), until),
        putBack(e, since, until),
        new Discarded(e.moment(since), e.knownAt()));
  }

  private static Disturbed putBack(Evidence e, double since, double until) {
    return new Disturbed(
        e.moment(since), e.moment(until), e.knownAt(), Disturbance.Kind.VESSEL_LIFTED);
  }

  /** Each time that the display went to zero; a list of its own for whoever asks. */
  static List<PourEvent> tares(Evidence e, double since) {
    List<PourEvent> events = new ArrayList<>();
    for (double[] zero : e.listZeros(since)) {
      events.add(new Tared(Place.WHOLE, e.moment(zero[0]), e.knownAt(), Evidence.grams(zero[1])));
    }
    return events;
  }

  /** Announces a gap with whatever the phase makes of it. */
  static ReadingsMissed missed(Place place, Evidence e, double lastSeen) {
    return new ReadingsMissed(place, e.moment(lastSeen), e.knownAt());
  }
}
