package pourwright.cli;

import java.io.PrintWriter;
import java.util.Locale;
import pourwright.stage.Chore;
import pourwright.stage.Clock;
import pourwright.stage.EventRules;
import pourwright.stage.HandTimes;
import pourwright.stage.Job;
import pourwright.stage.Moves;
import pourwright.stage.Odds;
import pourwright.stage.Outcome;
import pourwright.stage.Routine;
import pourwright.stage.Rule;
import pourwright.stage.Timetable;
import pourwright.stage.Totals;
import pourwright.statistic.Interval;
import pourwright.statistic.Proportion;

/** A stage plan in words. */
final class StageText {
  private static final double CONFIDENCE = 0.95;

  private StageText() {}

  static void print(Staged staged, PrintWriter out) {
    out.println(staged.file().title());
    if (staged.outcome() instanceof Outcome.Planned planned) {
      planned(staged, planned, out);
    } else {
      out.println(verdict(staged));
      if (staged.outcome() instanceof Outcome.Impossible impossible) {
        impossible.clash().stream().map(Rule::words).forEach(rule -> out.println("  - " + rule));
      }
    }
    out.println();
    out.println(EventRules.CHECK);
    out.println(Totals.SAFETY);
    out.flush();
  }

  /** What came of planning, in a sentence or two. */
  static String verdict(Staged staged) {
    if (staged.outcome() instanceof Outcome.Planned planned) {
      Timetable table = planned.timetable();
      Routine routine = staged.file().routine();
      return "Done by "
          + Clock.words(table.endSeconds())
          + " of "
          + Clock.words(routine.limitSeconds())
          + ", "
          + (table.lateSeconds() == 0
              ? "every pour at its moment"
              : "pours and lifts " + table.lateSeconds() + " s off their moments together")
          + (table.apartSeconds() > 0 ? ", cups served within " + table.apartSeconds() + " s" : "")
          + ". "
          + proof(planned, staged.marginSeconds());
    }
    if (staged.outcome() instanceof Outcome.Impossible impossible) {
      return "No timetable keeps all of these"
          + (impossible.isMinimal()
              ? "; leave out any one and the rest can be kept:"
              : " (there may be fewer; time ran out):");
    }
    return "Time ran out with neither a timetable nor a proof that there is none. Give it longer"
        + " with --seconds, or loosen a rule.";
  }

  private static String proof(Outcome.Planned planned, int marginSeconds) {
    return planned
        .gap()
        .map(
            gap ->
                "Not proven best: "
                    + gap.found()
                    + " "
                    + gap.wish().words()
                    + ", none can have fewer than "
                    + gap.bound()
                    + ".")
        .orElse(
            marginSeconds == 0
                ? "Proven best."
                : "Proven best with " + marginSeconds + " s to spare on each chore and walk.");
  }

  /** Says where the timetable leaves no time to move the one scale. */
  static void moves(Staged staged, PrintWriter out) {
    int told = staged.file().routine().hands().scale();
    int needed = told > 0 ? told : HandTimes.COMMON_SCALE_SECONDS;
    if (staged.outcome() instanceof Outcome.Planned planned) {
      for (Moves.Tight tight : Moves.listTight(planned.timetable(), needed)) {
        Job pour = tight.pour().job();
        out.println(
            String.format(
                Locale.ROOT,
                "note: too fast to move the scale to %s before its pour %d at %s: the hands are"
                    + " free for %d s, it takes %d s. Give %s a scale of its own, set scale_s in"
                    + " the routine's hands, or pour further apart.",
                nameOf(staged, pour.station()),
                pour.pour(),
                Clock.words(tight.pour().startSeconds()),
                tight.freeSeconds(),
                needed,
                nameOf(staged, pour.station())));
      }
    }
    out.flush();
  }

  private static void planned(Staged staged, Outcome.Planned planned, PrintWriter out) {
    out.println(verdict(staged));
    if (staged.marginSeconds() > 0) {
      out.println(
          "Chosen to take your scatter: each chore and walk has "
              + staged.marginSeconds()
              + " s to spare.");
    }
    out.println("Drain times: " + staged.drainsFrom() + ".");
    out.println();
    Totals totals = Totals.of(planned.timetable());
    for (Timetable.Slot slot : planned.timetable().slots()) {
      Job job = slot.job();
      String who = job.station() < 0 ? "" : nameOf(staged, job.station());
      out.println(
          String.format(
              Locale.ROOT,
              "%6s  %-10s %s%s",
              Clock.words(slot.startSeconds()),
              who,
              said(job),
              job.chore() == Chore.POUR
                  ? String.format(
                      Locale.ROOT, "  to %.0f g, in %d s", totals.after(job), job.seconds())
                  : "  " + job.seconds() + " s"));
    }
    if (staged.file().routine().hands().scale() > 0) {
      moves(staged, out);
    }
    staged.odds().ifPresent(odds -> odds(staged, odds, out));
  }

  private static String said(Job job) {
    return job.chore() == Chore.SPEAK ? "say: " + job.words() : job.words();
  }

  static String nameOf(Staged staged, int station) {
    return staged.file().routine().stations().get(station).name();
  }

  private static void odds(Staged staged, Odds odds, PrintWriter out) {
    out.println();
    out.println(
        odds.trials()
            + " routines played with dice (seed "
            + staged.seed()
            + "; spreads from "
            + staged.spreadsFrom()
            + "):");
    out.println("  done in time            " + chance(odds.endsInTime()));
    out.println("  and every pour inside   " + chance(odds.allGoesWell()));
    out.println(
        "  end: half by "
            + Clock.words(odds.medianEndSeconds())
            + ", 19 of 20 by "
            + Clock.words(odds.slowEndSeconds()));
    for (Odds.PourOdds pour : odds.pours()) {
      out.println(
          String.format(
              Locale.ROOT,
              "  %-10s pour %d inside %s",
              nameOf(staged, pour.station()),
              pour.pour(),
              chance(odds.of(pour))));
    }
  }

  private static String chance(Proportion share) {
    Interval interval = share.wilson(CONFIDENCE);
    return String.format(
        Locale.ROOT,
        "%.1f %% (%.1f to %.1f)",
        100 * share.share(),
        100 * interval.low(),
        100 * interval.high());
  }
}
