package pourwright.detect;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import pourwright.rig.Rig;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/** The second pass over a finished recording. */
public final class Hindsight {
  private Hindsight() {}

  /**
   * Best estimates of what happened.
   *
   * @param curves the whole recording, one curve for each place of the rig
   * @param announced what the live detector said of it
   */
  public static Findings of(
      Rig rig, DetectorSettings settings, List<Curve> curves, List<PourEvent> announced) {
    List<Findings.Pour> pours = new ArrayList<>();
    Optional<Findings.Lift> lift = Optional.empty();
    List<Disturbance> disturbances = new ArrayList<>();
    List<Findings.Gap> gaps = new ArrayList<>();
    PourEvent.PourStarted open = null;
    for (PourEvent event : announced) {
      if (event instanceof PourEvent.PourStarted started) {
        open = started;
      } else if (event instanceof PourEvent.PourEnded ended && open != null) {
        double seconds = Math.max(1e-3, ended.at().secondsSince(open.at()));
        pours.add(
            new Findings.Pour(
                ended.index(),
                open.at(),
                ended.at(),
                ended.poured(),
                Flow.of(ended.poured(), seconds),
                Optional.of(open.knownAt()),
                Optional.of(ended.knownAt()),
                false));
        open = null;
      } else if (event instanceof PourEvent.DripperLifted lifted) {
        lift = Optional.of(new Findings.Lift(lifted.at(), lifted.removed(), lifted.beverage()));
      } else if (event instanceof PourEvent.Disturbed disturbed) {
        disturbances.add(new Disturbance(disturbed.at(), disturbed.until(), disturbed.kind()));
      } else if (event instanceof PourEvent.ReadingsMissed missed) {
        gaps.add(new Findings.Gap(missed.place(), missed.at(), missed.knownAt()));
      }
    }
    if (open != null && !curves.isEmpty() && curves.get(0).size() > 0) {
      Curve curve = curves.get(0);
      SessionTime end = SessionTime.ofNanos(curve.atNanos(curve.size() - 1));
      pours.add(
          new Findings.Pour(
              open.index(),
              open.at(),
              end,
              Mass.ZERO,
              Flow.ZERO,
              Optional.of(open.knownAt()),
              Optional.empty(),
              false));
    }
    return new Findings(rig, pours, List.of(), lift, disturbances, gaps, List.of());
  }
}
