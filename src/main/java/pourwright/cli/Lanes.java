package pourwright.cli;

import pourwright.detect.DetectorSettings;
import pourwright.plan.Plan;

/** What a plan tells the detector. */
final class Lanes {
  private Lanes() {}

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
