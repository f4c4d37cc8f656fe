package pourwright.check;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalDouble;
import pourwright.check.Doing.Goal;
import pourwright.performance.Plateau;
import pourwright.performance.Series;
import pourwright.units.SessionTime;

/** What the states of a check share: the readings, where the programme stands, what is measured. */
final class Bench {
  /** A load reads within this share of what is expected, or it is another one; own choice. */
  private static final double SAME_SHARE = 0.04;

  private static final double SAME_GRAMS = 1;

  /** Lighter objects tell nothing (g); own choice. */
  private static final double LEAST_LOAD_GRAMS = 5;

  /** Slow water brings no more than this (g); own choice. */
  private static final double MOST_DRIPPED_GRAMS = 60;

  /** A sudden change in slow water (g within the last readings). */
  private static final double SPLASH_GRAMS = 8;

  private static final double LATEST_AFTER_BEAT_SECONDS = 1.2;
  private static final double COUNT_AGAIN_SECONDS = 8;
  private static final double LEAD_SECONDS = 1.0;
  private static final double LONGEST_TRACE_SECONDS = 8;
  private static final int BLOCKS = 5;
  private static final double BLOCKS_APART = 4;

  private final Programme programme;
  private final Pan pan = new Pan();
  private final List<Taken> taken = new ArrayList<>();
  private final List<Notice> notices = new ArrayList<>();
  private final Map<TestLoad, Double> seen = new HashMap<>();
  private OptionalDouble refused = OptionalDouble.empty();
  private int index;
  private OptionalDouble beatAt = OptionalDouble.empty();
  private int disturbances;

  Bench(Programme programme) {
    this.programme = programme;
  }

  Pan pan() {
    return pan;
  }

  double now() {
    return pan.now();
  }

  Programme programme() {
    return programme;
  }

  int index() {
    return index;
  }

  int disturbances() {
    return disturbances;
  }

  List<Taken> taken() {
    return taken;
  }

  Ask ask() {
    return programme.asks().get(Math.min(index, programme.asks().size() - 1));
  }

  /** What was said since this was last called. */
  List<Notice> takeNotices() {
    List<Notice> said = List.copyOf(notices);
    notices.clear();
    return said;
  }

  void tell(Notice.Kind kind, String text) {
    double at = pan.size() == 0 ? 0 : now();
    notices.add(new Notice(SessionTime.ofSeconds(at), kind, text));
  }

  void tellUnsteady() {
    disturbances++;
    tell(
        Notice.Kind.UNSTEADY,
        isDripping()
            ? "The weight still changes. Stop the drips and wait."
            : "The weight does not come to rest. Is the table shaking, is there a draught, does"
                + " something touch the scale? This step is measured again.");
  }

  void tellTouched() {
    disturbances++;
    tell(Notice.Kind.TOUCHED, "Something touched the scale. Hands off: this step begins again.");
  }

  void tellStopDripping() {
    tell(Notice.Kind.STOP, "Stop the drips and wait.");
  }

  /** Has the beats counted of a step that is to be done on one. */
  void count() {
    boolean isOnBeat = ask() instanceof Ask.TakeOff off && off.isOnBeat();
    if (isOnBeat && (beatAt.isEmpty() || now() > beatAt.getAsDouble() + COUNT_AGAIN_SECONDS)) {
      beatAt = OptionalDouble.of(now() + Notice.BEATS * Notice.BEAT_SECONDS);
      tell(Notice.Kind.COUNT, "One, two, off.");
    }
  }

  /** Until the last beat of the count at hand (s); 0 where there is none. */
  double secondsToBeat() {
    return beatAt.isPresent() ? beatAt.getAsDouble() - now() : 0;
  }

  /** How many beats of the count at hand are over. */
  int beat() {
    if (beatAt.isEmpty()) {
      return 0;
    }
    double since = now() - beatAt.getAsDouble() + Notice.BEATS * Notice.BEAT_SECONDS;
    return (int) Math.min(Notice.BEATS, Math.floor(since / Notice.BEAT_SECONDS));
  }

  /** Whether the weight has left {@code level}: two readings in a row, or one by far. */
  boolean hasLeft(double level) {
    double limit = pan.threshold();
    double off = Math.abs(pan.newest() - level);
    boolean isSecond =
        pan.size() > 1
            && Math.abs(pan.slice(pan.size() - 2, pan.size() - 1).grams(0) - level) > limit;
    return off > limit && (isSecond || off > 10 * limit);
  }

  int leftAt(double level) {
    int at = pan.size() - 1;
    if (at > 0 && Math.abs(pan.slice(at - 1, at).grams(0) - level) > pan.threshold()) {
      at--;
    }
    return at;
  }

  boolean isDripping() {
    return ask() instanceof Ask.Drip;
  }

  /** Whether a wait was disturbed. */
  boolean isTouched(double level) {
    if (!isDripping()) {
      return hasLeft(level);
    }
    int before = pan.indexAt(now() - 1.0);
    return Math.abs(pan.newest() - pan.slice(before, before + 1).grams(0)) > SPLASH_GRAMS;
  }

  boolean isRestless(Plateau measured) {
    return pan.knowsNoise() && measured.deviation() > Math.max(1.5 * pan.step(), 5 * pan.noise());
  }

  /** Whether the scatter of a wait was not the same all along, as on a table that shakes. */
  boolean isRestlessWait(int from) {
    if (pan.knowsNoise()) {
      return isRestless(pan.plateau(from));
    }
    double least = Double.POSITIVE_INFINITY;
    double most = 0;
    int length = (pan.size() - from) / BLOCKS;
    if (length < 3) {
      return false;
    }
    for (int i = 0; i < BLOCKS; i++) {
      int start = from + i * length;
      double deviation = Plateau.of(pan.slice(start, start + length)).deviation();
      least = Math.min(least, deviation);
      most = Math.max(most, deviation);
    }
    return most > Math.max(2 * pan.step(), BLOCKS_APART * least);
  }

  /** A wait is over. */
  Doing waited(Plateau level, int from) {
    Plateau measured = pan.plateau(from);
    if (!pan.knowsNoise()) {
      pan.learnNoise(measured.deviation());
    }
    return keep(level, measured, pan.slice(from, pan.size()), true);
  }

  /** A weight came to rest: what does it mean? */
  Doing judge(Goal goal, Plateau level, Plateau measured, int movedAt, boolean isClean) {
    if (goal instanceof Goal.Dripped dripped) {
      return keep(level, measured, pan.slice(dripped.from(), dripped.to()), isClean);
    }
    if (goal instanceof Goal.Undone undone) {
      return judgeUndone(undone, measured, movedAt);
    }
    if (goal instanceof Goal.Returned returned) {
      return judgeReturned(returned, measured, movedAt);
    }
    if (goal instanceof Goal.Cleared) {
      if (measured.grams() > level.grams() - pan.threshold()) {
        return new Doing.Waiting(goal, measured);
      }
      return restart(measured);
    }
    return judgeAsked(level, measured, movedAt, isClean);
  }

  private Doing judgeAsked(Plateau level, Plateau measured, int movedAt, boolean isClean) {
    Ask ask = ask();
    if (ask instanceof Ask.LeaveEmpty || ask instanceof Ask.Hold || ask instanceof Ask.Drip) {
      return pan.knowsNoise() && Math.abs(measured.grams() - level.grams()) > sameGrams(0)
          ? refuse(level, measured, "Something was put on or taken off.")
          : begin(measured);
    }
    double change = measured.grams() - level.grams();
    if (Math.abs(change) <= pan.threshold()) {
      tellTouched();
      return begin(measured);
    }
    if (isAsAsked(ask, change, measured)) {
      return keep(level, measured, trace(movedAt), isClean);
    }
    return refuse(level, measured, fault(ask, change));
  }

  private boolean isAsAsked(Ask ask, double change, Plateau measured) {
    if (ask instanceof Ask.Put put) {
      double expected = expected(put.load());
      return Double.isNaN(expected)
          ? change >= Math.max(LEAST_LOAD_GRAMS, 2 * pan.threshold())
          : Math.abs(change - expected) <= sameGrams(expected);
    }
    if (ask instanceof Ask.TakeOff off) {
      double expected = expected(off.load());
      double more = off.load().equals(Programme.VESSEL) ? MOST_DRIPPED_GRAMS : 0;
      return -change >= expected - sameGrams(expected)
          && -change <= expected + more + sameGrams(expected);
    }
    return Math.abs(measured.grams()) <= Math.max(1, pan.threshold());
  }

  /** As it read before, else as it is known; not a number for an object never seen. */
  private double expected(TestLoad load) {
    Double before = seen.get(load);
    if (before != null) {
      return before;
    }
    return load.known().map(known -> known.mass().grams()).orElse(Double.NaN);
  }

  private double sameGrams(double expected) {
    return Math.max(SAME_SHARE * Math.abs(expected), pan.threshold() + SAME_GRAMS);
  }

  private Doing refuse(Plateau level, Plateau measured, String fault) {
    double change = measured.grams() - level.grams();
    if (ask() instanceof Ask.Put put
        && change > LEAST_LOAD_GRAMS
        && refused.isPresent()
        && Math.abs(refused.getAsDouble() - change) <= pan.threshold()) {
      // the same wrong weight twice: it is the scale that is wrong
      tell(
          Notice.Kind.TAKEN,
          "It reads " + grams(change) + " again: taken as the scale's own error.");
      seen.put(put.load(), change);
      refused = OptionalDouble.empty();
      return keep(level, measured, pan.slice(pan.size() - 1, pan.size()), false);
    }
    refused = OptionalDouble.of(change);
    disturbances++;
    tell(
        Notice.Kind.WRONG,
        fault + (change > 0 ? " Take it off again." : " Put it back.") + " Nothing is lost.");
    return new Doing.Waiting(new Goal.Undone(level.grams()), measured);
  }

  private String fault(Ask ask, double change) {
    String reads = grams(Math.abs(change));
    if (ask instanceof Ask.Put put) {
      if (change < 0) {
        return "Something of " + reads + " came off, but " + put.load().name() + " was to go on.";
      }
      double expected = expected(put.load());
      return Double.isNaN(expected)
          ? "That is only " + reads + ", too light to test with."
          : "That reads " + reads + ", where " + grams(expected) + " was to come.";
    }
    if (ask instanceof Ask.TakeOff off) {
      return change > 0
          ? "Something of " + reads + " was put on, but " + off.load().name() + " was to come off."
          : "Something of "
              + reads
              + " came off, where it was to be "
              + grams(expected(off.load()))
              + ".";
    }
    return "The weight changed by " + reads + " and is not zero.";
  }

  private Doing judgeUndone(Goal.Undone undone, Plateau measured, int movedAt) {
    double off = measured.grams() - undone.grams();
    if (Math.abs(off) <= sameGrams(0)) {
      return begin(measured);
    }
    if (isAsAsked(ask(), off, measured)) {
      Plateau before =
          new Plateau(measured.from(), measured.to(), undone.grams(), 0, measured.count());
      return keep(before, measured, trace(movedAt), false);
    }
    tell(
        Notice.Kind.WRONG,
        "It is still " + grams(Math.abs(off)) + (off > 0 ? " too much." : " too little."));
    return new Doing.Waiting(undone, measured);
  }

  private Doing judgeReturned(Goal.Returned returned, Plateau measured, int movedAt) {
    Plateau before = returned.before();
    double change = measured.grams() - before.grams();
    if (Math.abs(change) <= pan.threshold()) {
      tell(Notice.Kind.BACK, "The scale is back with the same weight. This step begins again.");
      return isOpen(returned.interrupted())
          ? new Doing.Waiting(returned.interrupted(), measured)
          : begin(measured);
    }
    if (isMove(ask()) && isAsAsked(ask(), change, measured)) {
      tell(Notice.Kind.BACK, "The scale is back, and what was asked is done.");
      return keep(before, measured, trace(movedAt), false);
    }
    if (programme.isEmptyBefore(index)) {
      tell(Notice.Kind.BACK, "The scale is back with a new zero. This step begins again.");
      return restart(measured);
    }
    tell(
        Notice.Kind.BACK,
        "The scale is back but may have zeroed itself. Take everything off; what was measured"
            + " before is kept.");
    return new Doing.Waiting(new Goal.Cleared(), measured);
  }

  /** Whether something is still to be undone or taken off. */
  private static boolean isOpen(Goal goal) {
    return goal instanceof Goal.Undone || goal instanceof Goal.Cleared;
  }

  private static boolean isMove(Ask ask) {
    return ask instanceof Ask.Put || ask instanceof Ask.TakeOff;
  }

  /** From the last ask that begins with the empty pan. */
  private Doing restart(Plateau empty) {
    index = programme.lastEmptyBefore(index);
    taken.removeIf(one -> one.index() >= index);
    return begin(empty);
  }

  private Series trace(int movedAt) {
    double moved = pan.secondsAt(movedAt);
    int from = pan.indexAt(moved - LEAD_SECONDS);
    int to = Math.min(pan.size(), pan.indexAt(moved + LONGEST_TRACE_SECONDS));
    return pan.slice(from, to);
  }

  private Doing keep(Plateau before, Plateau after, Series readings, boolean isClean) {
    Ask ask = ask();
    OptionalDouble onBeat = OptionalDouble.empty();
    if (ask instanceof Ask.Put put) {
      seen.putIfAbsent(put.load(), after.grams() - before.grams());
    } else if (isClean && beatAt.isPresent() && isSoonAfterBeat(before, readings)) {
      onBeat = beatAt;
    }
    taken.add(new Taken(index, ask, before, after, readings, onBeat, isClean));
    refused = OptionalDouble.empty();
    tell(Notice.Kind.TAKEN, result(ask, before, after));
    index++;
    if (index == programme.asks().size()) {
      tell(Notice.Kind.DONE, "All done.");
      return new Doing.Done(after);
    }
    return begin(after);
  }

  private boolean isSoonAfterBeat(Plateau before, Series readings) {
    for (int i = 0; i < readings.size(); i++) {
      if (Math.abs(readings.grams(i) - before.grams()) > pan.threshold()) {
        double after = readings.seconds(i) - beatAt.orElseThrow();
        return after > -0.2 && after < LATEST_AFTER_BEAT_SECONDS;
      }
    }
    return false;
  }

  private static String result(Ask ask, Plateau before, Plateau after) {
    if (ask instanceof Ask.LeaveEmpty) {
      return String.format(
          Locale.ROOT, "Empty: %s, scatter %.3f g.", grams(after.grams()), after.deviation());
    }
    if (ask instanceof Ask.Hold) {
      return "Stayed at " + grams(after.grams()) + ".";
    }
    if (ask instanceof Ask.Drip) {
      return grams(after.grams() - before.grams()) + " of water shown.";
    }
    return ask instanceof Ask.Tare
        ? "Tared."
        : String.format(Locale.ROOT, "%+.2f g.", after.grams() - before.grams());
  }

  /** Begins the ask at hand from this resting weight. */
  Doing begin(Plateau level) {
    beatAt = OptionalDouble.empty();
    Ask ask = ask();
    if (index > 0 || disturbances > 0) {
      tell(Notice.Kind.ASK, ask.words()); // the very first is told before any reading came
    }
    double seconds =
        ask instanceof Ask.LeaveEmpty empty
            ? empty.seconds()
            : ask instanceof Ask.Hold hold
                ? hold.seconds()
                : ask instanceof Ask.Drip drip ? drip.seconds() : 0;
    return seconds > 0
        ? new Doing.Timed(level, pan.size(), now(), seconds, 0)
        : new Doing.Waiting(new Goal.Asked(), level);
  }

  static String grams(double grams) {
    return String.format(Locale.ROOT, "%.1f g", grams);
  }
}
