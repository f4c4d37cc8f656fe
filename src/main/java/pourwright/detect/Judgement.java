package pourwright.detect;

import pourwright.units.Mass;

/**
 * What counts as flow, stop, stillness and upset: the few limits of the craft, each with its
 * source, applied to {@link Evidence}. Everything that depends on the scale follows from its noise.
 */
final class Judgement {
  /**
   * Least and most that a hand pours (g/s); common practice, no source, with room on both sides.
   */
  static final double LEAST_FLOW = 0.6;

  static final double MOST_FLOW = 18;

  /** Jump that a jet's push may add when it sets in or ends (g): 15 g/s falling 30 cm. */
  static final double JET_PUSH = 3.0;

  /** A change is watched over this time for being too fast (s). */
  static final double JUMP_SECONDS = 0.2;

  /** Above what drips add within the look-back (g). */
  static final double LEAST_RISE = 0.7;

  /** A rise must leave the scatter of the rest before it by so many standard deviations. */
  static final double LEAST_SIGMAS = 6;

  /** No part of a rise may be flatter than this share of it; water runs on, a push ends. */
  static final double STEADY_SHARE = 0.42;

  /** Nothing is believed before the scale's noise has been seen for so long (s). */
  static final double LEAST_WATCH = 0.8;

  /** A start is not believed sooner: a knock goes back within that (s). */
  static final double LEAST_RISE_SECONDS = 0.33;

  /** A hand pours about this much (g/s), give or take a factor of one and a half; own choice. */
  static final double USUAL_FLOW = 6;

  static final double FLOW_LOG_SPREAD = 0.4;

  /** What a hand that leans, grips or puts something down does in a rise, it does about so long. */
  static final double PUSH_SECONDS = 0.35;

  /** A hand that takes hold of the dripper pushes no longer (s); own choice. */
  private static final double GRIP_SECONDS = 0.5;

  /** From this share of the planned water on, all of it is in; common practice, no source. */
  static final double ALL_WATER = 0.97;

  /** No faster flow of a pour needs more patience than another (log-likelihood). */
  static final double USUAL_DOUBT = 0.35;

  /** A dose of which nothing was said is hardly more than that (g); common practice, no source. */
  static final double USUAL_DOSE = 20;

  /** With this part of the dose all of it is in: some sticks to the cup; own choice. */
  private static final double LEAST_PART = 0.85;

  /** Ground coffee falls in within this time (s); own choice. */
  static final double COFFEE_SECONDS = 3.5;

  /** A rise bends and sways about its ramp by this part of its height; a knock by more. */
  static final double SWAY = 0.2;

  /** Part of a rise's slope that the newest stretch of it must still have: a push flattens. */
  static final double STILL_RISING = 0.6;

  /** So long the newest weights must have gone on with a rise before it is called a pour (s). */
  private static final double NEWEST_SECONDS = 0.1;

  /** Part of a rise's slope that the newest weights must show; a push is over in that time. */
  private static final double FLATTENED = 0.6;

  /** The hold after the last water before an end is announced (s): a pause of 1 s is no end. */
  static final double HOLD_SECONDS = 1.04;

  /** The newest of the weights show whether the water comes again after a pause (s). */
  private static final double FRESH_SECONDS = 0.12;

  private static final double LEVEL_SECONDS = 0.4;

  private static final double FRESH_SIGMAS = 1.5;

  /** Two pours are at least 3 s apart; what resumes sooner than this is the same pour (s). */
  static final double SAME_POUR_SECONDS = 2.0;

  /** How far back a stop is sought (s): the hold, and as much of the flow before it. */
  static final double STOP_WINDOW = 2.2;

  static final double LONG_STOP_WINDOW = 3.2;

  /** So long without flow is the end of a pour even when its stop was hidden (s). */
  static final double IDLE_SECONDS = 1.1;

  /** After an end, a rise is sought only in what is surely rest (s). */
  static final double REST_SECONDS = 0.4;

  /** Part of the flow that may be left in the tail of a lagging scale when an end is announced. */
  static final double TAIL_SHARE = 0.15;

  /** A weight is smooth when it has been a straight line so long (s). */
  static final double SMOOTH_SECONDS = 0.6;

  /** A scale that swings overshoots a step by this much of it, and takes so long to be over it. */
  static final double OVERSHOOT_SHARE = 0.05;

  static final double RECOVERY_SECONDS = 2;

  /** A zero that comes later than this after the weight left was pressed for (s). */
  static final double PRESS_SECONDS = 0.3;

  /** A finger on the button presses no longer, until the display goes to zero (s). */
  static final double LONGEST_PRESS_SECONDS = 1;

  /** Longer than that, a weight that came back was a lean and no bump (s). */
  static final double LONGEST_BUMP = 1.0;

  /** Slower is still (g/s): drips and evaporation. */
  static final double STILL_FLOW = 0.5;

  /** Less is no object, more no single drip (g). */
  static final double LEAST_OBJECT = 1.5;

  static final double LEAST_TARE = 2.0;

  /** A dose of which nothing was said is hardly less than that (g); common practice, no source. */
  static final double LEAST_DOSE = 10;

  /** The wet bed weighs at least so many doses: coffee keeps its own mass of water and more. */
  static final double DOSES_OF_A_WET_BED = 2;

  /** A swing reaches this part of the whole movement to either side. */
  static final double SWING_SHARE = 0.2;

  static final int LEAST_SWINGS = 3;

  /** What gained less across a gap is no pour (g). */
  static final double LEAST_POUR = 3;

  /** A vessel that is lifted and put back is back within that (s). */
  static final double PUT_BACK_SECONDS = 4;

  /** A dripper is back when so much of what a lift took off stands on the scale again. */
  static final double BACK_SHARE = 0.4;

  /** Of the water that is thrown away, the wet paper and some drops stay; own choice. */
  private static final double EMPTIED_SHARE = 0.6;

  private Judgement() {}

  static boolean isTooFast(Evidence e) {
    double span = e.spanBefore(JUMP_SECONDS);
    return e.mass() - e.massBefore(JUMP_SECONDS) > MOST_FLOW * span + JET_PUSH + 6 * e.noise();
  }

  /** At rest: the weight fell below where it was. */
  static boolean fell(Evidence e, double since) {
    double before = e.level(Math.max(since, e.now() - 1.5), e.now() - JUMP_SECONDS);
    double fall = Math.max(6 * e.noise(), 0.8);
    return before - e.mass() > fall && before - e.massBefore(0) > fall;
  }

  /** In a pour: the weight fell more than the jet's push. */
  static boolean dropped(Evidence e) {
    return e.massBefore(JUMP_SECONDS) - e.mass() > JET_PUSH + 6 * e.noise();
  }

  static boolean rose(Evidence e, double level) {
    return e.mass() - level > e.leastLift() / 2;
  }

  /** Level before a change at {@code time} (g). */
  static double levelBefore(Evidence e, double since, double time) {
    double level = e.level(Math.max(since, time - 1.5), time);
    return Double.isNaN(level) ? e.massBefore(e.now() - time) : level;
  }

  /**
   * How long a rise must last before it is believed (s).
   *
   * <p>A push on the rig may rise with any slope, a hand pours with a usual one; so the odds of a
   * pour fall with the square of the distance from it (in logarithms), and every {@link
   * #PUSH_SECONDS} that the rise goes on raise them by a factor e again.
   *
   * <p>Once all planned water is in, a hand that takes the dripper is likelier than another pour.
   *
   * @param heading flow to which the rise seems to tend (g/s)
   */
  private static double leastSpan(Evidence e, double heading, Ledger ledger) {
    double off = Math.max(0, Math.log(heading / USUAL_FLOW) / FLOW_LOG_SPREAD);
    double patience = PUSH_SECONDS * Math.max(0, off * off / 2 - USUAL_DOUBT);
    double lift = e.isAllPoured(ledger) ? GRIP_SECONDS : 0;
    return LEAST_RISE_SECONDS + patience + lift;
  }

  /** Whether what has risen by {@code slope} (g/s) {@code since} then still does. */
  static boolean stillRises(Evidence e, double since, double slope) {
    return fitsNewest(e, since, slope) && e.lineSlope() >= STILL_RISING * slope;
  }

  /** Fits the line through the newest of what rises by {@code slope} (g/s) {@code since} then. */
  private static boolean fitsNewest(Evidence e, double since, double slope) {
    return e.fitLine(Math.max(since, e.now() - e.slopeWindow(slope)), 3);
  }

  /**
   * Whether the newest weights bring far less than the rise did: water that has just set in flows
   * on or ever faster, but a hand that pushes, or that takes hold to lift, comes to rest. Less than
   * a step of the display tells nothing.
   *
   * @param slope of the rise (g/s)
   */
  private static boolean flattens(Evidence e, double slope) {
    double gained = e.mass() - e.massBefore(NEWEST_SECONDS);
    double expected = slope * e.spanBefore(NEWEST_SECONDS);
    return gained < FLATTENED * expected - Math.max(2 * e.noise(), e.resolution());
  }

  /** Whether a rise since {@code since} is water that has set in. */
  static boolean startsToFlow(Evidence e, double since, Ledger ledger) {
    if (e.watched() < LEAST_WATCH || !e.seekRise(since) || e.riseScore() < e.threshold()) {
      return false;
    }
    double span = e.now() - e.riseAt();
    double slope = e.riseSlope();
    if (slope < LEAST_FLOW
        || slope > MOST_FLOW
        || span < LEAST_RISE_SECONDS
        || slope * span < Math.max(LEAST_RISE, 1.5 * e.resolution())) {
      return false;
    }
    double wander = e.scatter(Math.max(since, e.riseAt() - 2), e.riseAt());
    if (slope * span < LEAST_SIGMAS * Math.max(wander, e.noise())) {
      return false;
    }
    if (!stillRises(e, e.riseAt(), slope) || flattens(e, slope)) {
      return false;
    }
    if (span < leastSpan(e, heading(e, slope), ledger)) {
      return false;
    }
    e.fitLine(e.riseAt(), 4);
    if (e.lineScatter() > Math.max(3 * e.noise(), SWAY * slope * span)) {
      return false;
    }
    double window = e.slopeWindow(slope);
    double blur = 1.5 * e.noise() / window;
    return e.leastSlope(e.riseAt() + 0.1, window) > STEADY_SHARE * slope - blur;
  }

  /** How much ground coffee there may be: about what was said, else what is usual. */
  static Ledger.Dose dose(DetectorSettings settings) {
    return new Ledger.Dose(
        settings.dose().map(dose -> LEAST_PART * dose.grams()).orElse(LEAST_DOSE),
        1 + 1.2 * settings.dose().map(Mass::grams).orElse(USUAL_DOSE));
  }

  /**
   * What is known of the coffee: a scale that shows a load nobody was seen to put there carries a
   * rig with its coffee.
   *
   * @param displayed what the scale shows without what was poured (g)
   */
  static Ledger.Grounds grounds(Evidence e, Ledger ledger, double displayed) {
    boolean isLoaded = Math.abs(displayed) > e.dose().most();
    return isLoaded && ledger.grounds() == Ledger.Grounds.POSSIBLE
        ? Ledger.Grounds.IN
        : ledger.grounds();
  }

  /**
   * Whether the only pour so far was ground coffee, as the tare that follows it tells.
   *
   * @param before the weight before the tare (g)
   */
  static boolean wasCoffee(Evidence e, Ledger ledger, double before) {
    return ledger.pours() == 1
        && ledger.settled() <= e.dose().most()
        && ledger.last().stop() - ledger.last().start() < COFFEE_SECONDS
        && grounds(e, ledger, e.displayed(before - ledger.settled())) != Ledger.Grounds.IN;
  }

  /**
   * Whether all that seemed to be poured weighs just what the brewer said of the coffee, on a rig
   * put together before our eyes without any: nobody begins with so little water.
   */
  static boolean isTheDose(Evidence e, Ledger ledger) {
    return ledger.grounds() == Ledger.Grounds.EXPECTED
        && Math.abs(ledger.settled() - e.statedDose()) < sameLevel(e) / 2;
  }

  /**
   * Whether what comes before the first pour may be ground coffee, which ends with the dose.
   *
   * @param came so far (g)
   * @param flow of it (g/s)
   */
  static boolean mayBeCoffee(Evidence e, double came, double flow, Ledger.Grounds grounds) {
    return came < grounds.tipping(flow) * e.dose().most();
  }

  /** Flow to which the rise sought last seems to tend (g/s). */
  static double heading(Evidence e) {
    double slope = e.riseSlope();
    fitsNewest(e, e.riseAt(), slope);
    return heading(e, slope);
  }

  /** Before the first pour a dose came to the rig and lies still: that was the coffee. */
  static boolean tookCoffee(Evidence e, double since, double level, Ledger ledger) {
    double gained = e.mass() - level;
    return ledger.pours() == 0
        && ledger.grounds() != Ledger.Grounds.IN
        && ledger.load().coffee() + gained > e.dose().least()
        && gained < e.dose().vessel()
        && isSmooth(e, since)
        && isStill(e);
  }

  /** Flow to which a rise tends that is still getting steeper, by the line fitted last (g/s). */
  private static double heading(Evidence e, double slope) {
    double newest = e.lineSlope();
    return newest <= slope ? slope : newest * Math.min(1.5, newest / slope);
  }

  /** Seen within a short window where the stop is sharp, within a longer one behind a long lag. */
  static boolean hasStopped(Evidence e, double since) {
    return hasStopped(e, since, STOP_WINDOW) || hasStopped(e, since, LONG_STOP_WINDOW);
  }

  private static boolean hasStopped(Evidence e, double since, double window) {
    if (!e.seekStop(Math.max(since, e.now() - window))) {
      return false;
    }
    double held = e.now() - (e.stopAt() - e.lag());
    if (held < HOLD_SECONDS || e.stopScore() < e.threshold() / 3) {
      return false;
    }
    if (comesAgain(e)) {
      return false;
    }
    double recent = Math.max(0.4, Math.min(0.9, 2 * e.noise()));
    if (!e.fitLine(e.now() - recent, 3)) {
      return false;
    }
    return e.lineSlope() < TAIL_SHARE * e.stopSlope() + e.lineSlopeError();
  }

  /** Whether the newest weight rises, and more than those before it: a tail rises ever less. */
  private static boolean comesAgain(Evidence e) {
    double fresh = e.now() - FRESH_SECONDS;
    double later = e.level(fresh - LEVEL_SECONDS / 2, fresh);
    double earlier = e.level(fresh - LEVEL_SECONDS, fresh - LEVEL_SECONDS / 2);
    return e.mass() - (earlier + later) / 2 > FRESH_SIGMAS * e.noise()
        && e.mass() - later > later - earlier;
  }

  /** Nothing flowed in all the time {@code since}: the stop itself was not seen. */
  static boolean isIdle(Evidence e, double since) {
    double span = e.now() - since;
    return span >= IDLE_SECONDS
        && span < 2 * IDLE_SECONDS
        && e.fitLine(since, 4)
        && e.lineSlope() < STILL_FLOW / 2 + e.lineSlopeError();
  }

  /** For as long as a pour may pause, no flow of a pour: what came since {@code since} is over. */
  static boolean dwindles(Evidence e, double since) {
    return e.now() - since > HOLD_SECONDS
        && e.fitLine(e.now() - HOLD_SECONDS, 4)
        && e.lineSlope() < LEAST_FLOW;
  }

  /** Flow ran out so slowly that no stop stands out, as in the tail of a thick liquid. */
  static boolean isSpent(Evidence e, double since) {
    return e.now() - since >= 2 * IDLE_SECONDS
        && e.fitLine(e.now() - 2 * IDLE_SECONDS, 6)
        && e.lineSlope() < STILL_FLOW / 2 + e.lineSlopeError();
  }

  static boolean isSmooth(Evidence e, double since) {
    double from = Math.max(since, e.now() - SMOOTH_SECONDS);
    return e.now() - since >= SMOOTH_SECONDS
        && e.hasBinsSince(from, 3)
        && e.fitLine(from, 3)
        && e.lineScatter() < 3 * e.noise();
  }

  /** Of the line fitted last: no flow in it. */
  static boolean isStill(Evidence e) {
    return Math.abs(e.lineSlope()) < STILL_FLOW + 2 * e.lineSlopeError();
  }

  /**
   * A steady flow since a while, not the tail of a step, and not what a scale that was moved much
   * still has to make up. Leaves the newest line fitted.
   */
  static boolean flowsEvenly(Evidence e, double since) {
    if (e.now() - since < 2 * SMOOTH_SECONDS) {
      return false;
    }
    double even = e.now() - 2 * SMOOTH_SECONDS;
    double gained = e.mass() - e.massBefore(2 * SMOOTH_SECONDS);
    if (gained < OVERSHOOT_SHARE * e.range(Math.max(since, even - RECOVERY_SECONDS), even)) {
      return false;
    }
    double recent = e.lineSlope();
    double before = e.massBefore(SMOOTH_SECONDS) - e.massBefore(2 * SMOOTH_SECONDS);
    double span = e.spanBefore(2 * SMOOTH_SECONDS) - e.spanBefore(SMOOTH_SECONDS);
    double earlier = span > 0 ? before / span : Double.POSITIVE_INFINITY;
    return recent > LEAST_FLOW + 2 * e.lineSlopeError()
        && recent < MOST_FLOW
        && earlier < 1.35 * recent
        && earlier > 0.5 * recent;
  }

  /**
   * The least that a lift takes off: the dripper with the dry dose where they are known, else the
   * wet bed alone (g).
   */
  static double leastLift(DetectorSettings settings) {
    double dose = settings.dose().map(Mass::grams).orElse(LEAST_DOSE);
    return settings
        .dripper()
        .map(dripper -> dripper.grams() + dose)
        .orElse(DOSES_OF_A_WET_BED * dose);
  }

  /** What it was when the weight left and came back. */
  static Disturbance.Kind kindOfReturn(Evidence e, double since, double before) {
    double until = e.now() - SMOOTH_SECONDS;
    if (until - since < LONGEST_BUMP) {
      return Disturbance.Kind.BUMP;
    }
    if (before - e.lowest(since) > e.leastLift()) {
      return Disturbance.Kind.VESSEL_LIFTED;
    }
    return e.swings(since) >= LEAST_SWINGS ? Disturbance.Kind.SWIRL : Disturbance.Kind.LEAN;
  }

  /**
   * The display went to zero at once. Before the first pour it may also have come to rest there
   * slowly; later that is a rig taken off a scale that was never tared, or a lift that happens to
   * leave next to nothing on the display: what is lifted is on its way for more than one reading.
   *
   * @param before the weight before (g)
   * @param change of it since then (g)
   */
  static boolean isTare(Evidence e, double since, double before, double change, boolean hasPoured) {
    if (e.isZeroedSince(since)) {
      double most = Math.max(LEAST_OBJECT, Math.max(2 * e.resolution(), 4 * e.noise()));
      boolean isAtOnce = e.zeroFrom(since) > before - most && e.zeroTook(since) > -change / 2;
      return !hasPoured || change > -LEAST_TARE || isAtOnce;
    }
    double near = Math.max(0.3, Math.max(e.resolution(), 3 * e.noise()));
    return !hasPoured && Math.abs(change) > LEAST_TARE && Math.abs(e.displayed(e.lineEnd())) < near;
  }

  /**
   * Whether the display went to zero once, from the level at rest, and what moved it just before
   * was only the finger on the button: the weight did not stay anywhere else.
   *
   * @param before the level at rest (g)
   * @param at when the display went to zero (s)
   */
  static boolean wasPressed(Evidence e, double since, double before, double at) {
    double bin = e.binSeconds();
    double from = Math.max(since, at - Math.max(PRESS_SECONDS, 2.6 * bin));
    double to = at - bin / 2;
    boolean stayed = e.range(from, to) < sameLevel(e) && e.countBins(from, to) > 1;
    boolean isElsewhere = Math.abs(e.level(from, to) - before) > sameLevel(e);
    boolean isBrief = at - since < LONGEST_PRESS_SECONDS + 2.6 * bin;
    boolean isOff = Math.abs(e.zeroTook(since) - e.displayed(before)) > sameLevel(e);
    return isBrief && isOff && e.listZeros(since).size() == 1 && !(stayed && isElsewhere);
  }

  /** Whether so much is gone as had been poured; the paper keeps some (g). */
  static boolean isEmptied(Ledger ledger, double gone) {
    return ledger.pours() > 0
        && gone > EMPTIED_SHARE * ledger.settled()
        && gone < ledger.settled() + LEAST_DOSE;
  }

  /** Levels nearer than that are the same (g). */
  static double sameLevel(Evidence e) {
    return Math.max(0.8, 4 * e.noise());
  }
}
