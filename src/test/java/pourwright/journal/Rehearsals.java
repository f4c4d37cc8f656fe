package pourwright.journal;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import pourwright.coach.Feedback;
import pourwright.compare.Comparator;
import pourwright.compare.PouredCurve;
import pourwright.detect.Analysis;
import pourwright.detect.Curve;
import pourwright.detect.DetectorSettings;
import pourwright.plan.Plan;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.session.Journal;
import pourwright.session.Outcome;
import pourwright.session.Played;
import pourwright.session.Rehearsal;
import pourwright.session.RunStart;
import pourwright.session.Setup;

/** Small rehearsals to be kept. */
final class Rehearsals {
  private Rehearsals() {}

  static Setup twoPours() {
    return Played.setup(
        List.of(Rig.WHOLE),
        List.of(Played.scale(1, Place.WHOLE, Played.weights(60, Played::twoPours))));
  }

  static Outcome twoPours(Journal journal) throws InterruptedException {
    return run(twoPours(), journal);
  }

  static Outcome twoPours(Journal journal, Instant at, Feedback feedback, boolean isSimulated)
      throws InterruptedException {
    Setup usual = twoPours();
    RunStart start =
        new RunStart(at, usual.start().program(), isSimulated, feedback, 0, usual.start().lanes());
    return run(new Setup(start, usual.settings(), usual.scales(), usual.idleLimit()), journal);
  }

  static Outcome run(Setup setup, Journal journal) throws InterruptedException {
    Rehearsal rehearsal = new Rehearsal(setup, List.of(journal), List.of());
    Outcome outcome = rehearsal.run();
    if (!rehearsal.troubles().isEmpty()) {
      throw new AssertionError(rehearsal.troubles());
    }
    return outcome;
  }

  /** Like a live run of {@link #twoPours} does at its end. */
  static Analyst.Found analyse(
      Rig rig, Optional<Plan> plan, List<RunStart.HeardScale> scales, List<Curve> curves) {
    Analysis analysis = Analysis.of(rig, DetectorSettings.standard(), curves);
    return new Analyst.Found(
        analysis,
        plan.map(
            known ->
                Comparator.compare(
                    known, analysis.findings(), PouredCurve.of(analysis.findings(), curves))));
  }
}
