package pourwright.cli;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import pourwright.bed.Poured;
import pourwright.detect.Basis;
import pourwright.detect.Findings;
import pourwright.forecast.PastRun;
import pourwright.journal.JournalFile;
import pourwright.journal.Judgement;
import pourwright.journal.KeptRun;
import pourwright.journal.RunFilter;
import pourwright.journal.StrengthReading;
import pourwright.plan.Plan;
import pourwright.plan.Start;
import pourwright.units.SessionTime;

/** Kept runs as what a forecast can learn from. */
final class PastRuns {
  private PastRuns() {}

  /**
   * The finished runs of a plan that count.
   *
   * @param title of the plan
   * @param areSimulated runs of the simulated brewer instead of one's own; the two never mix
   */
  static List<PastRun> of(JournalFile journal, String title, boolean areSimulated)
      throws IOException {
    return journal.listKept(RunFilter.all().titled(title).finished().withoutVoid()).stream()
        .filter(run -> run.entry().isSimulated() == areSimulated)
        .flatMap(run -> of(run).stream())
        .toList();
  }

  static Optional<PastRun> of(KeptRun run) {
    return run.plan()
        .flatMap(
            written ->
                run.judgement().flatMap(judged -> of(written.plan(), judged, run.strengths())));
  }

  private static Optional<PastRun> of(
      Plan plan, Judgement judged, List<StrengthReading> strengths) {
    Findings findings = judged.findings();
    List<Poured> pours = new ArrayList<>();
    for (Findings.Pour pour : findings.pours()) {
      if (pour.acrossGap() || !pour.end().isAfter(pour.start()) || pour.poured().isNegative()) {
        return Optional.empty(); // what was not weighed teaches nothing
      }
      pours.add(new Poured(pour.start(), pour.end(), pour.poured()));
    }
    if (pours.isEmpty()) {
      return Optional.empty();
    }
    Map<Integer, SessionTime> drained = drained(judged);
    List<Optional<SessionTime>> dry = new ArrayList<>();
    List<Boolean> wasDry = new ArrayList<>();
    for (Findings.Pour pour : findings.pours()) {
      Optional<SessionTime> measured = Optional.ofNullable(drained.get(pour.index()));
      dry.add(measured.filter(at -> at.isAfter(pour.end())));
      wasDry.add(measured.isPresent() || isWaitedFor(plan, pour.index(), findings.pours().size()));
    }
    return Optional.of(
        new PastRun(
            plan.dose(),
            plan.waterTemperatureCelsius(),
            pours,
            dry,
            wasDry,
            findings.lift().flatMap(Findings.Lift::beverage),
            strengths.isEmpty()
                ? OptionalDouble.empty()
                : strengths.stream().mapToDouble(StrengthReading::percent).average()));
  }

  /** Whether the pour after this one waits for the bed, and the run followed the plan in number. */
  private static boolean isWaitedFor(Plan plan, int pour, int poured) {
    return poured == plan.pours().size()
        && pour < poured
        && plan.pours().get(pour).start() instanceof Start.WhenDrained;
  }

  /** Only what was weighed: a modelled moment would teach the model what it already believes. */
  private static Map<Integer, SessionTime> drained(Judgement judged) {
    return judged.findings().drawdowns().stream()
        .filter(drawdown -> drawdown.basis() == Basis.MEASURED)
        .collect(
            Collectors.toMap(
                Findings.Drawdown::afterPour, Findings.Drawdown::end, (first, second) -> first));
  }
}
