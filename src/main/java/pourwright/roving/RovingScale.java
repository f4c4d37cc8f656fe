package pourwright.roving;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import pourwright.reading.Reading;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * Follows one scale from rig to rig.
 *
 * <p>The scale is taken from under one rig and put under the next: the display falls by all that
 * stood on it, wavers, and rises by the next rig. Under which rig it then stands is said by the
 * timetable, and checked by weight: a rig that was weighed before is known again, and a rig that
 * comes back as it went was only lifted, to be swirled. What a rig shows is counted on from where
 * the scale left it, so that a move is never a pour, a missed pour or a lift.
 *
 * <p>What is done to a rig while the scale is elsewhere is not seen. For one thread. Figures
 * without a source are own choices.
 */
public final class RovingScale {
  /** Less than a rig and more than any hand: so far below its first weight a rig is gone (g). */
  private static final double GONE_GRAMS = 60;

  /** A reading that falls by so much is held back until the next says what it was (g). */
  private static final double HELD_GRAMS = 3;

  private static final double HELD_SECONDS = 0.4;

  /** A rig that is put down weighs more than this (g). */
  private static final double RIG_GRAMS = 60;

  /** A rig without its dripper still weighs so much (g). */
  private static final double SERVER_GRAMS = 80;

  /** A rig that was only lifted comes back within this (g). */
  private static final double SAME_GRAMS = 3;

  /** A rig that was away loses vapour and gains drips, but no more than this (g). */
  private static final double KNOWN_GRAMS = 6;

  /** A tare puts the display this near to zero (g). */
  private static final double ZERO_GRAMS = 0.3;

  /** A display that is zeroed on its way jumps from more than this (g). */
  private static final double JUMP_GRAMS = 3;

  /** More than a pour may miss its mass by: what a tare takes beyond it is a vessel (g). */
  private static final double OVERPOUR_GRAMS = 30;

  /** A dripper that is taken off stays off; a rig that is lifted is back before (s). */
  private static final double LIFTED_SECONDS = 3;

  private final List<Turn> turns;
  private final Map<Integer, Known> known = new HashMap<>();
  private final Recent recent = new Recent();
  private final List<Reading> held = new ArrayList<>();
  private int turn;
  private int lane;
  private boolean isAway;

  /** What the display shows too much for the rig it weighs (g). */
  private double offset;

  /** What the display showed when the scale came here (g); empty before the first tare. */
  private OptionalDouble landed = OptionalDouble.empty();

  /** Water of this stay that {@link #landed} no longer tells (g). */
  private double counted;

  /** What the display showed before it fell (g). */
  private double before;

  private double lowest;

  /** Whether the scale was zeroed on its way. */
  private boolean isZeroed;

  private SessionTime leftAt = SessionTime.ZERO;
  private double last;

  /** About what the display shows with nothing on the scale (g). */
  private OptionalDouble empty = OptionalDouble.empty();

  /**
   * A rig the scale has left.
   *
   * @param display what the display showed of it, in its present zero (g); empty when that is lost
   * @param weight what the rig showed by itself (g)
   */
  private record Known(OptionalDouble display, double weight) {}

  /**
   * A scale under the rig of the first turn.
   *
   * @param turns in order, at least one
   */
  public RovingScale(List<Turn> turns) {
    if (turns.isEmpty()) {
      throw new IllegalArgumentException("a scale stands somewhere: at least one turn");
    }
    this.turns = List.copyOf(turns);
    this.lane = turns.get(0).lane();
  }

  /** Under whose rig it stands, or stood last. */
  public int lane() {
    return lane;
  }

  public boolean isAway() {
    return isAway;
  }

  /** Whether the timetable brings it under this rig again. */
  public boolean comesTo(int other) {
    return turns.subList(Math.min(turn + 1, turns.size()), turns.size()).stream()
        .anyMatch(later -> later.lane() == other);
  }

  /** Whose rig is next, once the water of this stay has been poured. */
  public OptionalInt wantedAt() {
    boolean isDue = isAway ? isDone(0) : isDone(landed.isPresent() ? last : 0);
    return isDue && turn + 1 < turns.size()
        ? OptionalInt.of(turns.get(turn + 1).lane())
        : OptionalInt.empty();
  }

  /** Takes one reading. */
  public List<Sighting> weigh(Reading reading) {
    recent.add(reading);
    return isAway ? search(reading) : follow(reading);
  }

  /** The scale cannot show what is on it: a display that was zeroed under a rig and lost it. */
  public List<Sighting> outOfRange(SessionTime at) {
    if (isAway || landed.isEmpty()) {
      return List.of();
    }
    held.clear();
    before = recent.levelBefore(at).orElse(last);
    return leave(at, landed.getAsDouble() - 2 * GONE_GRAMS);
  }

  /** The brewer says under which rig it stands. */
  public List<Sighting> put(int named, SessionTime at) {
    List<Sighting> seen = new ArrayList<>();
    if (!isAway) {
      held.clear();
      before = recent.levelBefore(at).orElse(last);
      seen.addAll(leave(at, before));
    }
    seen.add(arrive(named, recent.levelBefore(at).orElse(last), at));
    return seen;
  }

  private List<Sighting> follow(Reading reading) {
    double shown = reading.mass().grams();
    if (held.isEmpty() && recent.highest() - shown <= HELD_GRAMS) {
      last = shown;
      return List.of(here(reading));
    }
    if (held.isEmpty()) {
      before = recent.levelBefore(reading.at()).orElse(last);
    }
    held.add(reading);
    SessionTime since = held.get(0).at();
    if (isTare(shown)) {
      tared();
      recent.clear();
      recent.add(reading);
      return release(shown);
    }
    if (shown < landed.orElse(0) - GONE_GRAMS && Math.abs(shown) > ZERO_GRAMS) {
      held.clear();
      return leave(since, shown);
    }
    if (isEmptyPan(shown)) {
      held.clear();
      return leave(since, shown);
    }
    if (before - shown <= HELD_GRAMS) {
      return release(shown);
    }
    if (reading.at().secondsSince(since) > HELD_SECONDS) {
      recent.clear();
      recent.add(reading);
      return release(shown);
    }
    return List.of();
  }

  private Sighting here(Reading reading) {
    return new Sighting.Weighed(
        lane,
        new Reading(reading.at(), reading.mass().minus(Mass.ofGrams(offset)), reading.stability()));
  }

  private List<Sighting> release(double shown) {
    List<Sighting> seen = held.stream().map(this::here).toList();
    held.clear();
    last = shown;
    return seen;
  }

  /** Two readings at zero: one may be passed on the way down. */
  private boolean isTare(double shown) {
    return held.size() > 1
        && Math.abs(shown) <= ZERO_GRAMS
        && Math.abs(held.get(held.size() - 2).mass().grams()) <= ZERO_GRAMS
        && !isEmptyPan(shown);
  }

  /** Where the display was zeroed on the bare scale, zero says that the rig is gone. */
  private boolean isEmptyPan(double shown) {
    return landed.isPresent()
        && landed.getAsDouble() > RIG_GRAMS
        && Math.abs(shown) <= ZERO_GRAMS
        && empty.isPresent()
        && Math.abs(empty.getAsDouble()) < RIG_GRAMS;
  }

  private void tared() {
    double water = before - landed.orElse(before);
    counted += water <= turns.get(turn).water().grams() + OVERPOUR_GRAMS ? water : 0;
    landed = OptionalDouble.of(0);
    empty = shifted(empty, before);
    known.replaceAll((other, rig) -> new Known(shifted(rig.display(), before), rig.weight()));
  }

  private static OptionalDouble shifted(OptionalDouble display, double taken) {
    return display.isPresent()
        ? OptionalDouble.of(display.getAsDouble() - taken)
        : OptionalDouble.empty();
  }

  private List<Sighting> leave(SessionTime at, double shown) {
    isAway = true;
    isZeroed = false;
    leftAt = at;
    lowest = shown;
    counted += before - landed.orElse(0);
    known.put(lane, new Known(OptionalDouble.of(before), before - offset));
    return List.of(new Sighting.Left(lane, at));
  }

  /** Whether the water of this stay has been poured, all but half of its last pour. */
  private boolean isDone(double display) {
    double poured = counted + (isAway ? 0 : display - landed.orElse(0));
    Turn now = turns.get(turn);
    return poured > now.water().grams() - now.lastPour().grams() / 2;
  }

  private List<Sighting> search(Reading reading) {
    double shown = reading.mass().grams();
    lowest = Math.min(lowest, shown);
    // a rig that is put down settles; a display that jumps to zero was zeroed
    isZeroed = Math.abs(shown) <= ZERO_GRAMS && (isZeroed || isJump(last));
    last = shown;
    Optional<Double> still = recent.stillLevel();
    List<Sighting> poured = still.isEmpty() ? hasty() : List.of();
    if (!poured.isEmpty()) {
      return poured;
    }
    if (still.isEmpty() || reading.at().secondsSince(leftAt) < 0.5) {
      return List.of();
    }
    double level = still.get();
    if (level > lowest + RIG_GRAMS) {
      empty = OptionalDouble.of(lowest);
      return List.of(arrive(whose(level), level, reading.at()));
    }
    boolean isServerThere =
        empty.isPresent()
            && level > empty.getAsDouble() + SERVER_GRAMS
            && reading.at().secondsSince(leftAt) > LIFTED_SECONDS;
    if (isServerThere) {
      // not the scale has left the rig, but the dripper
      isAway = false;
      landed = OptionalDouble.of(level);
      last = level;
      return List.of(new Sighting.Stands(lane, reading.at(), true, Mass.ZERO), here(reading));
    }
    return List.of();
  }

  /**
   * The hand pours before the display has come to rest. A rig that was weighed before counts on
   * from there; of a new one the water counts from where its rise was seen.
   */
  private List<Sighting> hasty() {
    List<Reading> rise = recent.steadyRise();
    if (rise.isEmpty() || !isDone(0) || turn + 1 >= turns.size()) {
      return List.of();
    }
    int next = turns.get(turn + 1).lane();
    Known rig = known.get(next);
    Reading first = rise.get(0);
    double level = first.mass().grams();
    double from = rig == null || rig.display().isEmpty() ? level : rig.display().getAsDouble();
    boolean isOnRig = level > lowest + RIG_GRAMS && last > from + SAME_GRAMS;
    if (!isOnRig || level < from - SAME_GRAMS) {
      return List.of();
    }
    empty = OptionalDouble.of(lowest);
    List<Sighting> seen = new ArrayList<>();
    seen.add(arrive(next, from, first.at()));
    rise.forEach(reading -> seen.add(here(reading)));
    last = rise.get(rise.size() - 1).mass().grams();
    return seen;
  }

  private boolean isJump(double shownBefore) {
    return Math.abs(shownBefore) > JUMP_GRAMS && shownBefore > lowest + RIG_GRAMS;
  }

  /** Whose rig weighs so much now. */
  private int whose(double level) {
    boolean isDone = isDone(0);
    int next = turn + 1 < turns.size() ? turns.get(turn + 1).lane() : lane;
    if (isZeroed) {
      return isDone ? next : lane; // weights of before say nothing; the timetable alone must do
    }
    boolean isSame = fits(lane, level, SAME_GRAMS);
    boolean isNext = fits(next, level, KNOWN_GRAMS);
    boolean isNextNew = known.get(next) == null;
    if (isSame && !(isDone && isNext)) {
      return lane;
    }
    if (isNext || isNextNew) {
      return next;
    }
    List<Integer> others =
        known.keySet().stream().filter(other -> fits(other, level, KNOWN_GRAMS)).toList();
    return others.size() == 1 ? others.get(0) : next;
  }

  private boolean fits(int other, double level, double within) {
    Known rig = known.get(other);
    return rig != null
        && rig.display().isPresent()
        && Math.abs(level - rig.display().getAsDouble()) <= within;
  }

  private Sighting arrive(int there, double level, SessionTime at) {
    boolean isBack = there == lane;
    if (isZeroed) {
      known.replaceAll((other, rig) -> new Known(OptionalDouble.empty(), rig.weight()));
      empty = OptionalDouble.empty();
    }
    Known rig = known.get(there);
    double unexplained =
        rig == null || rig.display().isEmpty() ? 0 : level - rig.display().getAsDouble();
    boolean isExpected = isBack || isNextAt(there);
    if (!isBack) {
      moveOnTo(there);
      counted = 0;
    }
    isAway = false;
    lane = there;
    landed = OptionalDouble.of(level);
    offset = level - (rig == null ? 0 : rig.weight());
    last = level;
    recent.clear();
    return new Sighting.Stands(there, at, isExpected, Mass.ofGrams(unexplained));
  }

  private boolean isNextAt(int there) {
    return turn + 1 < turns.size() && turns.get(turn + 1).lane() == there;
  }

  /** To the next turn of that rig; a rig that has none left stays in the turn it is in. */
  private void moveOnTo(int there) {
    for (int i = turn + 1; i < turns.size(); i++) {
      if (turns.get(i).lane() == there) {
        turn = i;
        return;
      }
    }
  }
}
