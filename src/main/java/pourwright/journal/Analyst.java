package pourwright.journal;

import java.util.List;
import java.util.Optional;
import pourwright.compare.Comparison;
import pourwright.detect.Analysis;
import pourwright.detect.Curve;
import pourwright.plan.Plan;
import pourwright.rig.Rig;

/** Finds and judges the pours of a recording, the way a live run does when it ends. */
@FunctionalInterface
public interface Analyst {
  /**
   * Looks at a whole recording.
   *
   * @param curves one for each place of the rig that was heard
   */
  Found analyse(Rig rig, Optional<Plan> plan, List<Curve> curves);

  /** What was found; {@code comparison} only where there is a plan. */
  record Found(Analysis analysis, Optional<Comparison> comparison) {}
}
