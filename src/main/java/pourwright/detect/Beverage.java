package pourwright.detect;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import pourwright.units.Mass;

/**
 * What is left in the server after the lift.
 *
 * <p>The display, with every tare added back, is the load since the recording began. What the scale
 * carried just before the dripper was put on it is the empty server, so what it carries after the
 * lift, less that, is the beverage. Without the placing, the dripper's mass and the dose tell how
 * much water left with it.
 */
final class Beverage {
  /** Grounds keep one to three times their mass; the beverage is the rest of the water. */
  private static final double LEAST_SHARE = 0.4;

  private static final double USUAL_SHARE = 0.87;

  private Beverage() {}

  static Optional<Mass> find(
      DetectorSettings settings,
      Track track,
      List<PourEvent> announced,
      List<Findings.Pour> pours,
      LiftFit.Lift lift) {
    double water = pours.stream().mapToDouble(pour -> pour.poured().grams()).sum();
    if (pours.isEmpty() || water <= 0) {
      return Optional.empty();
    }
    double after = lift.levelAfter() + taken(announced, track, lift.at());
    double first = track.seconds(pours.get(0).start());
    List<Double> empties = new ArrayList<>();
    for (PourEvent event : announced) {
      if (event instanceof PourEvent.Disturbed placed
          && placed.kind() == Disturbance.Kind.OBJECT_PLACED
          && track.seconds(placed.at()) < first) {
        double at = track.seconds(placed.at());
        Track.Line level = track.line(at - 1.2, at - 0.15);
        if (level.readings() > 0) {
          empties.add(level.level() + taken(announced, track, at));
        }
      }
    }
    settings.server().ifPresent(server -> empties.add(server.grams() - track.baseNanograms * 1e-9));
    return empties.stream()
        .map(empty -> after - empty)
        .filter(beverage -> beverage > LEAST_SHARE * water && beverage < water + 2)
        .min(
            (a, b) ->
                Double.compare(
                    Math.abs(a - USUAL_SHARE * water), Math.abs(b - USUAL_SHARE * water)))
        .or(() -> byDripper(settings, water, lift))
        .map(Mass::ofGrams);
  }

  private static Optional<Double> byDripper(
      DetectorSettings settings, double water, LiftFit.Lift lift) {
    if (settings.dripper().isEmpty() || settings.dose().isEmpty()) {
      return Optional.empty();
    }
    double dry = settings.dripper().get().grams() + settings.dose().get().grams();
    double beverage = water - (lift.removed() - dry);
    return beverage > 0 && beverage <= water ? Optional.of(beverage) : Optional.empty();
  }

  /** All that tares have taken off the display by {@code time} (g). */
  private static double taken(List<PourEvent> announced, Track track, double time) {
    double sum = 0;
    for (PourEvent event : announced) {
      if (event instanceof PourEvent.Tared tared && track.seconds(tared.at()) < time) {
        sum += tared.taken().grams();
      }
    }
    return sum;
  }
}
