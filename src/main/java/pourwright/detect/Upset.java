package pourwright.detect;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import pourwright.detect.Disturbance.Kind;
import pourwright.detect.Phase.Aloft;
import pourwright.detect.Phase.Blind;
import pourwright.detect.Phase.Pouring;
import pourwright.detect.Phase.Resting;
import pourwright.detect.PourEvent.Discarded;
import pourwright.detect.PourEvent.Disturbed;
import pourwright.detect.PourEvent.PourStarted;
import pourwright.detect.PourEvent.Tared;
import pourwright.rig.Place;

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
    if (Judgement.isTare(e, since, before, change, ledger.pours() > 0)) {
      return tared(e, change);
    }
    if (Math.abs(change) < Judgement.sameLevel(e)) {
      return settle(e, ledger, Judgement.kindOfReturn(e, since, before), 0);
    }
    boolean cameBack = e.lineEnd() - e.lowest(since) > e.leastLift();
    if (cameBack && Judgement.isEmptied(ledger, -change)) {
      return Phase.emptied(e, ledger, since);
    }
    if (change < 0 && !Double.isNaN(base) && isBack(e, base)) {
      return pushed(e);
    }
    boolean isObject =
        change > 0
            || -change <= ledger.placed() + Judgement.sameLevel(e)
            || (Double.isNaN(base) && e.lineEnd() > ledger.last().left() - e.leastLift());
    if (!isObject && ledger.pours() > 0 && -change >= e.leastLift()) {
      return lifted(e);
    }
    if (!Double.isNaN(base)) {
      return change > 0 && change < Judgement.MOST_FLOW * span
          ? settle(e, ledger, Kind.BUMP, 0)
          : settle(e, ledger.placed(change), kindOf(change), change);
    }
    Ledger now =
        ledger.pours() > 0 ? ledger.placed(change) : ledger.prepared(change, before, e.dose());
    return settle(e, now, kindOf(change), change);
  }

  private static boolean isBack(Evidence e, double level) {
    return Math.abs(e.lineEnd() - level) < Judgement.sameLevel(e);
  }

  /**
   * All that seemed to be poured is gone again, and no more: somebody leaned on the rig. The pour
   * that was announced has yet to begin; without water it ends by itself.
   */
  private Step pushed(Evidence e) {
    double until = e.now() - Judgement.SMOOTH_SECONDS;
    Disturbed lean = new Disturbed(e.moment(since), e.moment(until), e.knownAt(), Kind.LEAN);
    return Step.to(new Pouring(ledger, until, base), lean);
  }

  /** Nobody lifts while pouring: what seemed to be a pour until then is over. */
  private Step lifted(Evidence e) {
    if (Double.isNaN(base)) {
      return Step.to(new Aloft(ledger, since, before, e.lineEnd()));
    }
    double stop = since - e.lag();
    Ledger now = ledger.stopped(base, stop, before - base);
    Aloft aloft = new Aloft(now, since, before, e.lineEnd());
    return Phase.ended(e, ledger, stop, before - base, aloft);
  }

  private static Kind kindOf(double change) {
    return change > 0 ? Kind.OBJECT_PLACED : Kind.OBJECT_REMOVED;
  }

  private Step flowing(Evidence e, double change) {
    boolean isTare = e.isZeroedSince(since);
    double taken = isTare ? e.zeroTook(since) : 0;
    double shift = isTare ? -taken : Math.abs(change) < Judgement.LEAST_OBJECT ? 0 : change;
    List<PourEvent> events = Phase.tares(e, since);
    if (!isTare) {
      Kind kind = shift == 0 ? Kind.BUMP : kindOf(change);
      events.add(new Disturbed(e.moment(since), e.knownAt(), e.knownAt(), kind));
    }
    double even = e.now() - Judgement.SMOOTH_SECONDS;
    Ledger moved = ledger.shifted(shift).tared(taken);
    if (!Double.isNaN(base)) {
      return new Step(new Pouring(moved, even, base + shift), events);
    }
    Ledger now = moved.started(since);
    events.add(new PourStarted(now.pours(), e.moment(since), e.knownAt()));
    return new Step(new Pouring(now, even, before + shift), events);
  }

  private Step tared(Evidence e, double change) {
    boolean isAtOnce = e.isZeroedSince(since);
    double at = isAtOnce ? e.zeroedAt() : since;
    boolean isPressed =
        isAtOnce && Double.isNaN(base) && Judgement.wasPressed(e, since, before, at);
    double taken = isPressed ? e.displayed(before) : isAtOnce ? e.zeroTook(since) : -change;
    List<PourEvent> events = isPressed ? new ArrayList<>() : Phase.tares(e, since);
    if (isPressed || !isAtOnce) {
      events.add(new Tared(Place.WHOLE, e.moment(at), e.knownAt(), Evidence.grams(taken)));
    }
    if (isAtOnce && at - since > Judgement.PRESS_SECONDS) {
      events.add(0, new Disturbed(e.moment(since), e.moment(at), e.knownAt(), Kind.BUMP));
    }
    Ledger brewed = ledger;
    if (Double.isNaN(base) && Judgement.wasCoffee(e, ledger, before)) {
      events.add(new Discarded(e.moment(since), e.knownAt()));
      brewed = ledger.discarded(Ledger.Grounds.IN);
    }
    double other = change + taken;
    double still = e.now() - Judgement.SMOOTH_SECONDS;
    double water = Double.isNaN(base) ? 0 : Judgement.MOST_FLOW * (e.now() - since);
    boolean isOnlyTare = other > -Judgement.LEAST_OBJECT && other < Judgement.LEAST_OBJECT + water;
    Ledger now = brewed.shifted(change).prepared(other, before, e.dose()).tared(taken);
    if (!isOnlyTare) {
      events.add(0, new Disturbed(e.moment(since), e.moment(at), e.knownAt(), kindOf(other)));
    }
    return new Step(
        Double.isNaN(base)
            ? Resting.from(e, now, still)
            : new Pouring(now, still, base - taken + (isOnlyTare ? 0 : other)),
        events);
  }

  private Step settle(Evidence e, Ledger now, Kind kind, double shift) {
    double until = e.now() - Judgement.SMOOTH_SECONDS;
    Disturbed event = new Disturbed(e.moment(since), e.moment(until), e.knownAt(), kind);
    return Double.isNaN(base)
        ? Step.to(Resting.from(e, now, until), event)
        : Step.to(new Pouring(now, until, base + shift), event);
  }

  /** What was seen to leave before a short gap left then, not in it. */
  @Override
  public Step afterGap(Evidence e, double lastSeen, double back) {
    if (before - e.mass() > e.leastLift() && back - lastSeen < Pouring.LONGEST_GAP_SECONDS) {
      return Step.to(this);
    }
    return Double.isNaN(base)
        ? Step.to(Blind.at(e, ledger, lastSeen, back, before, false))
        : Pouring.torn(e, ledger, lastSeen, back, base, before);
  }

  @Override
  public Outlook.Doing doing() {
    return Outlook.Doing.DISTURBED;
  }
}
