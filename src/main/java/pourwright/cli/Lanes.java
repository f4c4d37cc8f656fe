package pourwright.cli;

import java.util.List;
import java.util.Optional;
import pourwright.bed.KnownDrainage;
import pourwright.compare.Comparator;
import pourwright.compare.PouredCurve;
import pourwright.detect.Analysis;
import pourwright.detect.Curve;
import pourwright.detect.DetectorSettings;
import pourwright.journal.Analyst;
import pourwright.plan.Plan;
import pourwright.rig.Rig;
import pourwright.session.RunStart;

/** What a plan tells the detector. */
final class Lanes {
  private Lanes() {}

  /** Looks through a kept recording as a live run does at its end; see {@link Analyst}. */
  static Analyst.Found analyse(
      Rig rig, Optional<Plan> plan, List<RunStart.HeardScale> scales, List<Curve> curves) {
    DetectorSettings settings = plan.map(Lanes::settings).orElseGet(DetectorSettings::standard);
    for (RunStart.HeardScale scale : scales) {
      settings = KnownScales.into(settings, scale);
    }
    DetectorSettings known = settings;
    Analysis heard = Analysis.of(rig, known, curves);
    Analysis analysis =
        new Analysis(
            heard.announced(),
            KnownDrainage.complete(heard.findings(), settings.dose(), List.of()));
    return new Analyst.Found(
        analysis,
        plan.map(
            wanted ->
                Comparator.compare(
                    wanted, analysis.findings(), PouredCurve.of(analysis.findings(), curves))));
  }

  static DetectorSettings settings(Plan plan) {
    DetectorSettings settings =
        DetectorSettings.standard().withDose(plan.dose()).withPlannedWater(plan.water());
    if (plan.dripper().isPresent()) {
      settings = settings.withDripper(plan.dripper().get());
    }
    if (plan.server().isPresent()) {
      settings = settings.withServer(plan.server().get());
    }
    return settings;
  }
}
