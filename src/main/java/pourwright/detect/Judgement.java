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
  static final double JET_PUSH = 3.5;

  /** A change is watched over this time for being too fast (s). */
  static final double JUMP_SECONDS = 0.3;

  /** Above what drips add within the look-back (g). */
  static final double LEAST_RISE = 0.5;

  /** A start is not believed sooner: a knock goes back within that (s). */
  static final double LEAST_RISE_SECONDS = 0.22;

  /** The hold after the last water before an end is announced (s): a pause of 1 s is no end. */
  static final double HOLD_SECONDS = 0.88;

  /** Two pours are at least 3 s apart; what resumes sooner than this is the same pour (s). */
  static final double SAME_POUR_SECONDS = 2.0;

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

  static boolean startsToFlow(Evidence e, double since) {
    if (!e.seekRise(since) || e.riseScore() < e.threshold()) {
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
    double recent = Math.max(0.25, 3 * e.noise() / slope);
    return e.fitLine(Math.max(e.riseAt(), e.now() - recent), 3) && e.lineSlope() > slope / 2;
  }

  static boolean hasStopped(Evidence e, double since) {
    if (!e.seekStop(since)) {
      return false;
    }
    double held = e.now() - (e.stopAt() - e.lag());
    if (held < HOLD_SECONDS || e.stopScore() < e.threshold() / 3) {
      return false;
    }
    double window = Math.max(0.4, Math.min(0.9, 2 * e.noise()));
    if (!e.fitLine(e.now() - window, 3)) {
      return false;
    }
    return e.lineSlope() < TAIL_SHARE * e.stopSlope() + e.lineSlopeError();
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

  static boolean isZero(Evidence e, double grams) {
    return Math.abs(e.displayed(grams)) < Math.max(0.3, Math.max(e.resolution(), 3 * e.noise()));
  }

  /** Levels nearer than that are the same (g). */
  static double sameLevel(Evidence e) {
    return Math.max(0.8, 4 * e.noise());
  }
}
