package pourwright.journal;

import java.util.List;
import java.util.Optional;
import pourwright.compare.Comparison;
import pourwright.detect.Analysis;
import pourwright.detect.Curve;
import pourwright.plan.Plan;
import pourwright.rig.Rig;
import pourwright.session.RunStart;

/** Finds and judges the pours of a recording, the way a live run does when it ends. */
@FunctionalInterface
public interface Analyst {
  /**
   * Looks at a whole recording.
   *
   * @param scales what was known of the scales then
   * @param curves one for each place of the rig
   */
  Found analyse(Rig rig, Optional<Plan> plan, List<RunStart.HeardScale> scales, List<Curve> curves);

  /** What was found; {@code comparison} only where there is a plan. */
  record Found(Analysis analysis, Optional<Comparison> comparison) {}
}
