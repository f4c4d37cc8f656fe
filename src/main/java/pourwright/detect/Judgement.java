package pourwright.detect;

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

  /** Grounds are tipped in faster than this (g/s), in a time like that (s); own trials. */
  static final double TIPPING_FLOW = 7.5;

  static final double TIPPING_SECONDS = 0.6;
  private static final double TIPPING_SECONDS_PER_FLOW = 0.15;

  /** The hold after the last water before an end is announced (s): a pause of 1 s is no end. */
  static final double HOLD_SECONDS = 0.97;

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

  /** Longer than that, a weight that came back was a lean and no bump (s). */
  static final double LONGEST_BUMP = 1.0;

  /** Slower is still (g/s): drips and evaporation. */
  static final double STILL_FLOW = 0.5;

  /** Less is no object, more no single drip (g). */
  static final double LEAST_OBJECT = 1.5;

  static final double LEAST_TARE = 2.0;

  /** Lightest thing taken for a dripper with its wet bed (g). */
  static final double LEAST_LIFT = 40;

  /** What gained less across a gap is no pour (g). */
  static final double LEAST_POUR = 3;

  /** A vessel that is lifted and put back is back within that (s). */
  static final double PUT_BACK_SECONDS = 4;

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
    return e.mass() - level > LEAST_LIFT / 2;
  }

  /** Level before a change at {@code time} (g). */
  static double levelBefore(Evidence e, double since, double time) {
    double level = e.level(Math.max(since, time - 1.5), time);
    return Double.isNaN(level) ? e.massBefore(e.now() - time) : level;
  }

  /**
   * How long a rise of this slope must last (s). Before the first pour a fast one may be ground
   * coffee tipped in: 12 to 30 g within about a second.
   */
  private static double leastSpan(double slope, boolean isFirst) {
    double tipping = isFirst ? (slope - TIPPING_FLOW) * TIPPING_SECONDS_PER_FLOW : 0;
    return LEAST_RISE_SECONDS + Math.max(0, Math.min(TIPPING_SECONDS, tipping));
  }

  static boolean startsToFlow(Evidence e, double since, boolean isFirst) {
    if (e.watched() < LEAST_WATCH || !e.seekRise(since) || e.riseScore() < e.threshold()) {
      return false;
    }
    double span = e.now() - e.riseAt();
    double slope = e.riseSlope();
    if (slope < LEAST_FLOW
        || slope > MOST_FLOW
        || span < leastSpan(slope, isFirst)
        || slope * span < Math.max(LEAST_RISE, 1.5 * e.resolution())) {
      return false;
    }
    double wander = e.scatter(Math.max(since, e.riseAt() - 2), e.riseAt());
    if (slope * span < LEAST_SIGMAS * Math.max(wander, e.noise())) {
      return false;
    }
    double recent = Math.max(0.25, 3 * e.noise() / slope);
    if (!e.fitLine(Math.max(e.riseAt(), e.now() - recent), 3) || e.lineSlope() < slope / 2) {
      return false;
    }
    double part = Math.max(0.15, 1.8 * e.binSeconds());
    double blur = 2 * e.noise() / part;
    return e.leastSlope(e.riseAt() + 0.1, part) > STEADY_SHARE * slope - blur;
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
    double recent = Math.max(0.4, Math.min(0.9, 2 * e.noise()));
    if (!e.fitLine(e.now() - recent, 3)) {
      return false;
    }
    return e.lineSlope() < TAIL_SHARE * e.stopSlope() + e.lineSlopeError();
  }

  /** Nothing flowed in all the time {@code since}: the stop itself was not seen. */
  static boolean isIdle(Evidence e, double since) {
    double span = e.now() - since;
    return span >= IDLE_SECONDS
        && span < 2 * IDLE_SECONDS
        && e.fitLine(since, 4)
        && e.lineSlope() < STILL_FLOW / 2 + e.lineSlopeError();
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

  /** A steady flow since a while, not the tail of a step. Leaves the newest line fitted. */
  static boolean flowsEvenly(Evidence e, double since) {
    if (e.now() - since < 2 * SMOOTH_SECONDS) {
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

  /** The display went to zero at once, or slowly came to rest there. */
  static boolean isTare(Evidence e, double since, double change) {
    double near = Math.max(0.3, Math.max(e.resolution(), 3 * e.noise()));
    return e.isZeroedSince(since)
        || (Math.abs(change) > LEAST_TARE && Math.abs(e.displayed(e.lineEnd())) < near);
  }

  /** Levels nearer than that are the same (g). */
  static double sameLevel(Evidence e) {
    return Math.max(0.8, 4 * e.noise());
  }
}
