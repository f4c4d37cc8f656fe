package pourwright.compare;

import java.util.ArrayDeque;
import java.util.Arrays;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import pourwright.plan.Schedule;
import pourwright.plan.Tolerance;
import pourwright.units.SessionTime;

/**
 * Which made pour is which planned one.
 *
 * <p>Both stay in order. A planned pour may be missed, a made one may be extra, one planned pour
 * may have been made in several pieces (split), and several planned ones may have run together
 * (merged). Of all such alignments the one of least cost is taken, found by dynamic programming.
 * Costs are in tolerances of the plan:
 *
 * <ul>
 *   <li>a match costs {@code min(|mass error| / mass tolerance, 4) + min(|start error| / start
 *       tolerance, 4)}, with the masses summed over its pieces;
 *   <li>the start error of a match is the smaller of two: against the due moment, and against the
 *       planned pause after the pour before, where that pour was matched too. So one late pour does
 *       not make all later ones look like others;
 *   <li>each piece beyond the first of a split, and each planned pour beyond the first of a merger,
 *       costs 3 on top;
 *   <li>pours whose masses together are off by more than 4 tolerances have not run together, and
 *       pieces that are more than 4 tolerances too much together are not of one pour;
 *   <li>a missed pour costs 4, an extra pour 4.
 * </ul>
 *
 * <p>A match can thus cost no more than the pour missed and another one extra (8): when counts
 * agree and nothing speaks for a shift, pours are matched in order, however bad they are. Among
 * equally cheap alignments matches win. The numbers are ours, chosen on worked cases; no source.
 *
 * @param links in order; every planned and every made pour is in exactly one
 * @param cost in tolerances
 */
public record Alignment(List<Link> links, double cost) {
  static final double ERROR_MAX = 4;
  static final double MISSED = 4;
  static final double EXTRA = 4;
  static final double JOIN = 3;

  /**
   * Of an extra pour while the run still goes on: planned pours are still to come, so there is no
   * missed one to pay for beside it. Just below the costliest match.
   */
  static final double EXTRA_SO_FAR = 7.5;

  /** More pieces than this are not one pour any more. */
  static final int PIECES_MAX = 12;

  private static final double TIE = 1e-9;

  public Alignment {
    links = List.copyOf(links);
  }

  /**
   * Planned pours {@code firstPlanned} to {@code lastPlanned} were made as pours {@code firstMade}
   * to {@code lastMade}. All count from 1, by place in the list; a last one below its first means
   * none.
   */
  public record Link(int firstPlanned, int lastPlanned, int firstMade, int lastMade) {
    int plannedCount() {
      return lastPlanned - firstPlanned + 1;
    }

    int madeCount() {
      return lastMade - firstMade + 1;
    }

    public boolean isMissed() {
      return madeCount() == 0;
    }

    public boolean isExtra() {
      return plannedCount() == 0;
    }

    public boolean isMatch() {
      return !isMissed() && !isExtra();
    }
  }

  /** The alignment of a finished run. */
  public static Alignment of(Routine routine) {
    return new Search(routine, EXTRA).bestTo(routine.schedule().slots().size());
  }

  /**
   * The alignment of a run that still goes on: planned pours beyond the last one that the made ones
   * reach are not missed yet and are left out. A pour counts as extra only when it fits nothing at
   * all: it costs 7.5 here.
   */
  public static Alignment soFar(Routine routine) {
    Search search = new Search(routine, EXTRA_SO_FAR);
    Alignment best = search.bestTo(0);
    for (int planned = 1; planned <= routine.schedule().slots().size(); planned++) {
      Alignment longer = search.bestTo(planned);
      if (longer.cost() < best.cost() + TIE) {
        best = longer;
      }
    }
    return best;
  }

  /** The last planned pour that is decided on; 0 when none is. */
  public int lastPlanned() {
    return links.isEmpty() ? 0 : links.get(links.size() - 1).lastPlanned();
  }

  /** How the search came to a state. */
  private record Step(int plannedBefore, int madeBefore, boolean matchedBefore) {}

  /**
   * States are (planned pours decided on, made pours decided on, whether the last link is a match);
   * the last is needed because a pause is only known after a match.
   */
  private static final class Search {
    private final Routine routine;
    private final double extra;
    private final List<Schedule.Slot> slots;
    private final List<MadePour> made;
    private final double massTolerance;
    private final double startTolerance;
    private final double[][][] cost;
    private final Step[][][] cameBy;

    Search(Routine routine, double extra) {
      this.routine = routine;
      this.extra = extra;
      slots = routine.schedule().slots();
      made = routine.made();
      Tolerance tolerance = routine.schedule().plan().tolerance();
      massTolerance = tolerance.mass().grams();
      startTolerance = tolerance.start().toNanos() / 1e9;
      cost = new double[slots.size() + 1][made.size() + 1][2];
      cameBy = new Step[slots.size() + 1][made.size() + 1][2];
      for (double[][] row : cost) {
        for (double[] cell : row) {
          Arrays.fill(cell, Double.POSITIVE_INFINITY);
        }
      }
      // The empty alignment counts as no match: nothing was poured before it.
      cost[0][0][0] = 0;
      for (int i = 0; i <= slots.size(); i++) {
        for (int j = 0; j <= made.size(); j++) {
          leave(i, j, true);
          leave(i, j, false);
        }
      }
    }

    private void leave(int i, int j, boolean matched) {
      double soFar = cost[i][j][matched ? 1 : 0];
      if (soFar == Double.POSITIVE_INFINITY) {
        return;
      }
      Step from = new Step(i, j, matched);
      if (i < slots.size() && j < made.size()) {
        match(from, soFar);
      }
      if (i < slots.size()) {
        reach(i + 1, j, false, soFar + MISSED, from);
      }
      if (j < made.size()) {
        reach(i, j + 1, false, soFar + extra, from);
      }
    }

    private void match(Step from, double soFar) {
      int i = from.plannedBefore();
      int j = from.madeBefore();
      double start = soFar + Math.min(startError(from) / startTolerance, ERROR_MAX);
      double planned = slots.get(i).pour().add().grams();
      double poured = 0;
      for (int q = 1; q <= Math.min(PIECES_MAX, made.size() - j); q++) {
        poured += made.get(j + q - 1).poured().grams();
        if (q == 1 || poured - planned <= ERROR_MAX * massTolerance) {
          reach(i + 1, j + q, true, start + massError(poured - planned) + JOIN * (q - 1), from);
        }
      }
      poured = made.get(j).poured().grams();
      for (int p = 2; p <= Math.min(PIECES_MAX, slots.size() - i); p++) {
        planned += slots.get(i + p - 1).pour().add().grams();
        if (Math.abs(poured - planned) <= ERROR_MAX * massTolerance) {
          reach(i + p, j + 1, true, start + massError(poured - planned) + JOIN * (p - 1), from);
        }
      }
    }

    private double massError(double grams) {
      return Math.min(Math.abs(grams) / massTolerance, ERROR_MAX);
    }

    /** How far the next made pour starts from where the next planned one should (s). */
    private double startError(Step from) {
      int i = from.plannedBefore();
      int j = from.madeBefore();
      SessionTime start = made.get(j).start();
      Optional<SessionTime> previousEnd =
          from.matchedBefore() ? Optional.of(made.get(j - 1).end()) : Optional.empty();
      double error = Math.abs(start.secondsSince(routine.dueAt(i + 1, j, previousEnd)));
      if (previousEnd.isEmpty()) {
        return error;
      }
      double pause = start.secondsSince(previousEnd.get());
      double plannedPause = slots.get(i).start().secondsSince(slots.get(i - 1).end());
      return Math.min(error, Math.abs(pause - plannedPause));
    }

    private void reach(int i, int j, boolean matched, double total, Step from) {
      int layer = matched ? 1 : 0;
      if (total < cost[i][j][layer] - TIE) {
        cost[i][j][layer] = total;
        cameBy[i][j][layer] = from;
      }
    }

    Alignment bestTo(int planned) {
      int j = made.size();
      double[] last = cost[planned][j];
      boolean matched = last[1] <= last[0] + TIE;
      Deque<Link> links = new ArrayDeque<>();
      double total = last[matched ? 1 : 0];
      int i = planned;
      while (i > 0 || j > 0) {
        Step step = cameBy[i][j][matched ? 1 : 0];
        links.addFirst(new Link(step.plannedBefore() + 1, i, step.madeBefore() + 1, j));
        i = step.plannedBefore();
        j = step.madeBefore();
        matched = step.matchedBefore();
      }
      return new Alignment(List.copyOf(links), total);
    }
  }
}
