package pourwright.cli;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
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
                run.judgement()
                    .flatMap(judged -> of(written.plan(), judged, run.strengths(), run.seenDry())));
  }

  private static Optional<PastRun> of(
      Plan plan, Judgement judged, List<StrengthReading> strengths, List<SessionTime> seenDry) {
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
    Map<Integer, SessionTime> drained = weighed(judged);
    Map<Integer, SessionTime> seen = seen(findings, seenDry);
    List<Optional<SessionTime>> dry = new ArrayList<>();
    List<Boolean> wasDry = new ArrayList<>();
    for (Findings.Pour pour : findings.pours()) {
      Optional<SessionTime> known =
          Optional.ofNullable(drained.get(pour.index()))
              .or(() -> Optional.ofNullable(seen.get(pour.index())));
      dry.add(known.filter(at -> at.isAfter(pour.end())));
      wasDry.add(known.isPresent() || isWaitedFor(plan, pour.index(), findings.pours().size()));
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
  private static Map<Integer, SessionTime> weighed(Judgement judged) {
    return judged.findings().drawdowns().stream()
        .filter(drawdown -> drawdown.basis() == Basis.MEASURED)
        .collect(
            Collectors.toMap(
                Findings.Drawdown::afterPour, Findings.Drawdown::end, (first, second) -> first));
  }

  /**
   * What the brewer said between the end of a pour and the next water, or the lift; the first
   * counts.
   */
  private static Map<Integer, SessionTime> seen(Findings findings, List<SessionTime> seenDry) {
    Map<Integer, SessionTime> seen = new HashMap<>();
    List<Findings.Pour> pours = findings.pours();
    for (int i = 0; i < pours.size(); i++) {
      Findings.Pour pour = pours.get(i);
      Optional<SessionTime> next =
          i + 1 < pours.size()
              ? Optional.of(pours.get(i + 1).start())
              : findings.lift().map(Findings.Lift::time);
      seenDry.stream()
          .filter(at -> at.isAfter(pour.end()))
          .filter(at -> next.isEmpty() || at.isBefore(next.get()))
          .min(Comparator.naturalOrder())
          .ifPresent(at -> seen.put(pour.index(), at));
    }
    return seen;
  }
}
