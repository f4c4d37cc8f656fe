package pourwright.compare;

import java.time.Duration;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import pourwright.compare.Alignment.Link;
import pourwright.compare.Comparison.JudgedPour;
import pourwright.compare.Comparison.Kind;
import pourwright.compare.Comparison.Placing;
import pourwright.compare.Comparison.Share;
import pourwright.detect.Basis;
import pourwright.detect.Findings;
import pourwright.plan.Plan;
import pourwright.plan.PlannedPour;
import pourwright.plan.Schedule;
import pourwright.plan.Tolerance;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/** Judges the pours of a run by its plan; see {@link Comparison} for what is measured. */
public final class Comparator {
  private static final int ERRORS_PER_POUR = 3;

  private final Routine routine;
  private final PouredCurve curve;
  private final Tolerance tolerance;
  private final List<JudgedPour> lines = new ArrayList<>();
  private final List<Weighed> errors = new ArrayList<>();

  /** An error in units of tolerance, and the line it belongs to. */
  private record Weighed(int line, Kind kind, double error) {}

  private Comparator(Routine routine, PouredCurve curve) {
    this.routine = routine;
    this.curve = curve;
    this.tolerance = routine.schedule().plan().tolerance();
  }

  /**
   * Compares a finished recording with its plan.
   *
   * @param curve all water poured over time, on the clock of the findings; {@link PouredCurve#NONE}
   *     where the rig does not show it
   */
  public static Comparison compare(Plan plan, Findings findings, PouredCurve curve) {
    Map<Integer, SessionTime> drained = new HashMap<>();
    for (Findings.Drawdown drawdown : findings.drawdowns()) {
      if (drawdown.basis() != Basis.BOUNDED) {
        drained.put(drawdown.afterPour(), drawdown.end());
      }
    }
    return compare(
        new Routine(
            Schedule.of(plan), findings.pours().stream().map(MadePour::of).toList(), drained),
        curve);
  }

  /** Compares what was made with what was planned, as if nothing more were to come. */
  public static Comparison compare(Routine routine, PouredCurve curve) {
    return new Comparator(routine, curve).comparison(Alignment.of(routine));
  }

  /**
   * Compares a run that still goes on: planned pours that may still come are left out, of the lines
   * and of the divisor of the index.
   */
  public static Comparison compareSoFar(Routine routine, PouredCurve curve) {
    return new Comparator(routine, curve).comparison(Alignment.soFar(routine));
  }

  private Comparison comparison(Alignment alignment) {
    Optional<SessionTime> previousEnd = Optional.empty();
    for (Link link : alignment.links()) {
      if (link.isExtra()) {
        extra(made(link).get(0));
      } else if (link.isMissed()) {
        missed(link.firstPlanned());
        previousEnd = Optional.empty();
      } else {
        matched(link, previousEnd);
        previousEnd = Optional.of(made(link).get(link.madeCount() - 1).end());
      }
    }
    double sum = errors.stream().mapToDouble(e -> e.error() * e.error()).sum();
    // Before the first planned pour is reached there may still be an extra one.
    int planned = Math.max(1, alignment.lastPlanned());
    return new Comparison(
        lines, Math.sqrt(sum / (ERRORS_PER_POUR * planned)), shares(sum), alignment);
  }

  private List<Share> shares(double sum) {
    if (sum == 0) {
      return List.of();
    }
    return errors.stream()
        .map(e -> new Share(e.line(), e.kind(), e.error() * e.error() / sum))
        .toList();
  }

  private List<MadePour> made(Link link) {
    return routine.made().subList(link.firstMade() - 1, link.lastMade());
  }

  private void extra(MadePour pour) {
    massError(pour.poured());
    lines.add(
        new JudgedPour(
            OptionalInt.empty(),
            List.of(pour.index()),
            Verdict.EXTRA,
            pour.poured(),
            Optional.empty(),
            List.of(Words.grams(pour.poured()) + " that were not planned")));
  }

  private void missed(int planned) {
    Mass add = routine.schedule().slot(planned).pour().add();
    massError(add.negated());
    lines.add(
        new JudgedPour(
            OptionalInt.of(planned),
            List.of(),
            Verdict.MISSED,
            add.negated(),
            Optional.empty(),
            List.of(Words.grams(add) + " not poured")));
  }

  private void matched(Link link, Optional<SessionTime> previousEnd) {
    List<MadePour> pieces = made(link);
    List<PlannedPour> planned =
        routine.schedule().slots().subList(link.firstPlanned() - 1, link.lastPlanned()).stream()
            .map(Schedule.Slot::pour)
            .toList();
    double plannedGrams = planned.stream().mapToDouble(pour -> pour.add().grams()).sum();
    Optional<SessionTime> end = previousEnd;
    double done = 0;
    for (PlannedPour pour : planned) {
      double next = done + pour.add().grams() / plannedGrams;
      Stretch stretch =
          planned.size() == 1 ? new Stretch(pieces) : Stretch.part(pieces.get(0), done, next);
      // Within pours that ran together the bed was not waited for.
      int before = pour.index() == link.firstPlanned() ? link.firstMade() - 1 : 0;
      SessionTime due = routine.dueAt(pour.index(), before, end);
      judge(link, pour, stretch, due);
      end = Optional.of(stretch.end());
      done = next;
    }
  }

  private void judge(Link link, PlannedPour planned, Stretch stretch, SessionTime due) {
    Mass mass = stretch.poured().minus(planned.add());
    Duration start = stretch.start().since(due);
    Flow flow = stretch.flow().minus(planned.flow());
    Duration length = stretch.end().since(stretch.start()).minus(planned.length());
    boolean massInside = mass.abs().compareTo(tolerance.mass()) <= 0;
    boolean startInside = start.abs().compareTo(tolerance.start()) <= 0;
    boolean flowInside =
        Math.abs(flow.nanogramsPerSecond()) <= tolerance.flow().nanogramsPerSecond();

    List<String> reasons = new ArrayList<>();
    Verdict verdict = massInside && startInside && flowInside ? Verdict.INSIDE : Verdict.OUTSIDE;
    if (link.madeCount() > 1) {
      verdict = Verdict.SPLIT;
      reasons.add("poured in " + link.madeCount() + " pieces");
    } else if (link.plannedCount() > 1) {
      verdict = Verdict.MERGED;
      reasons.add("pours " + link.firstPlanned() + " to " + link.lastPlanned() + " ran together");
    }
    if (!massInside) {
      reasons.add(Words.grams(mass.abs()) + (mass.isNegative() ? " too little" : " too much"));
    }
    if (!startInside) {
      reasons.add(Words.seconds(start.abs()) + (start.isNegative() ? " too early" : " too late"));
    }
    if (!flowInside) {
      reasons.add(
          Words.flow(Math.abs(flow.gramsPerSecond()))
              + (flow.nanogramsPerSecond() < 0 ? " too slow" : " too fast"));
    }

    massError(mass);
    error(Kind.START, start.toNanos() / (double) tolerance.start().toNanos());
    error(Kind.FLOW, flow.nanogramsPerSecond() / (double) tolerance.flow().nanogramsPerSecond());
    lines.add(
        new JudgedPour(
            OptionalInt.of(planned.index()),
            stretch.indices(),
            verdict,
            mass,
            Optional.of(
                new Placing(
                    start,
                    length,
                    flow,
                    stretch.departure(curve, due, planned),
                    stretch.unsteadiness(curve))),
            reasons));
  }

  /** Of the line that is about to be added. */
  private void massError(Mass mass) {
    error(Kind.MASS, mass.nanograms() / (double) tolerance.mass().nanograms());
  }

  private void error(Kind kind, double inTolerances) {
    errors.add(new Weighed(lines.size(), kind, inTolerances));
  }

  /** Numbers in sentences: one decimal is what a brewer can act on. */
  private static final class Words {
    private Words() {}

    static String grams(Mass mass) {
      return String.format(Locale.ROOT, "%.1f g", mass.grams());
    }

    static String seconds(Duration span) {
      return String.format(Locale.ROOT, "%.1f s", span.toNanos() / 1e9);
    }

    static String flow(double gramsPerSecond) {
      return String.format(Locale.ROOT, "%.1f g/s", gramsPerSecond);
    }
  }
}
