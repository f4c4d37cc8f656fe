package pourwright.cli;

import java.io.PrintWriter;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;
import pourwright.compare.Comparison;
import pourwright.detect.Findings;
import pourwright.session.Outcome;
import pourwright.stage.Chore;
import pourwright.stage.Clock;
import pourwright.stage.Timetable;
import pourwright.units.SessionTime;

/**
 * The pours of a mock run held against the timetable. The stage clock is that of the first water:
 * it stands then where the timetable has that brewer's first pour.
 *
 * @param pours in the order of the timetable; those of brewers without a scale are left out
 */
record StageTiming(List<Pour> pours) {
  StageTiming {
    pours = List.copyOf(pours);
  }

  /**
   * One pour of the timetable.
   *
   * @param brewer from 1
   * @param pour from 1
   * @param plannedSeconds of the stage clock
   * @param madeSeconds of the stage clock; empty when it was missed
   */
  record Pour(int brewer, int pour, int plannedSeconds, Optional<Double> madeSeconds) {}

  static StageTiming of(Timetable timetable, Outcome outcome) {
    List<Pour> pours = new ArrayList<>();
    Optional<Double> zero = zeroSeconds(timetable, outcome);
    for (Timetable.Slot slot : timetable.slots()) {
      int station = slot.job().station();
      if (slot.job().chore() == Chore.POUR && station < outcome.lanes().size()) {
        Optional<SessionTime> start = made(outcome.lanes().get(station), slot.job().pour());
        pours.add(
            new Pour(
                station + 1,
                slot.job().pour(),
                slot.startSeconds(),
                start.flatMap(at -> zero.map(before -> at.seconds() - before))));
      }
    }
    return new StageTiming(pours);
  }

  /** Where the stage clock has its zero in the recording (s). */
  private static Optional<Double> zeroSeconds(Timetable timetable, Outcome outcome) {
    return outcome.lanes().stream()
        .filter(lane -> !lane.analysis().findings().pours().isEmpty())
        .min(Comparator.comparing(StageTiming::firstWater))
        .map(lane -> firstWater(lane).seconds() - timetable.firstPourOf(lane.number() - 1));
  }

  private static SessionTime firstWater(Outcome.LaneOutcome lane) {
    return lane.analysis().findings().pours().get(0).start();
  }

  private static Optional<SessionTime> made(Outcome.LaneOutcome lane, int pour) {
    Optional<Integer> index =
        lane.comparison().stream()
            .flatMap(comparison -> comparison.pours().stream())
            .filter(judged -> judged.planned().equals(OptionalInt.of(pour)))
            .map(Comparison.JudgedPour::made)
            .flatMap(List::stream)
            .findFirst();
    return index.flatMap(
        wanted ->
            lane.analysis().findings().pours().stream()
                .filter(found -> found.index() == wanted)
                .map(Findings.Pour::start)
                .findFirst());
  }

  void print(List<String> names, PrintWriter out) {
    out.println();
    out.println("by the stage clock");
    out.println("brewer      pour  planned     made");
    for (Pour pour : pours) {
      out.println(
          String.format(
              Locale.ROOT,
              "%-10s  %4d  %7s  %s",
              names.get(pour.brewer() - 1),
              pour.pour(),
              Clock.words(pour.plannedSeconds()),
              pour.madeSeconds()
                  .map(made -> String.format(Locale.ROOT, "%+6.1f s", made - pour.plannedSeconds()))
                  .orElse("  not made")));
    }
    out.flush();
  }
}
