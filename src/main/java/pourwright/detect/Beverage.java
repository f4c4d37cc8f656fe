package pourwright.detect;

import java.util.ArrayList;
import java.util.Comparator;
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

  private static final double MOST_KEPT_PER_DOSE = 3;

  private static final double USUAL_SHARE = 0.87;

  private Beverage() {}

  /** With hindsight. */
  static Optional<Mass> find(
      DetectorSettings settings,
      Track track,
      List<PourEvent> announced,
      List<Findings.Pour> pours,
      LiftFit.Lift lift) {
    double water = pours.stream().mapToDouble(pour -> pour.poured().grams()).sum();
    if (pours.isEmpty()) {
      return Optional.empty();
    }
    double after = lift.levelAfter() + taken(announced, track, lift.at());
    double first = track.seconds(pours.get(0).start());
    List<Double> empties =
        SetDown.levels(track, first).stream()
            .map(level -> level.grams() + taken(announced, track, level.at()))
            .toList();
    return of(settings, water, after, empties, track.baseNanograms * 1e-9, lift.removed());
  }

  /**
   * From the loads seen.
   *
   * @param water poured (g)
   * @param after load after the lift (g above the first reading)
   * @param empties loads on which a vessel was then put, one of them the empty server (g)
   * @param first what the display showed at first (g)
   * @param removed by the lift (g)
   */
  static Optional<Mass> of(
      DetectorSettings settings,
      double water,
      double after,
      List<Double> empties,
      double first,
      double removed) {
    if (water <= 0) {
      return Optional.empty();
    }
    double dose = settings.dose().map(Mass::grams).orElse(0.0);
    boolean isDosed = dose > 0;
    double usual = isDosed ? water - Hindsight.KEPT_PER_DOSE * dose : USUAL_SHARE * water;
    double share = LEAST_SHARE * water;
    // of a small brew the grounds keep most
    double least =
        isDosed ? Math.max(0, Math.min(share, water - MOST_KEPT_PER_DOSE * dose)) : share;
    List<Double> all = new ArrayList<>(empties);
    settings.server().ifPresent(server -> all.add(server.grams() - first));
    return all.stream()
        .map(empty -> after - empty)
        .filter(beverage -> beverage > least && beverage < water + 2)
        .min(Comparator.comparingDouble(beverage -> Math.abs(beverage - usual)))
        .or(() -> byDripper(settings, water, removed))
        .map(Mass::ofGrams);
  }

  private static Optional<Double> byDripper(
      DetectorSettings settings, double water, double removed) {
    if (settings.dripper().isEmpty() || settings.dose().isEmpty()) {
      return Optional.empty();
    }
    double dry = settings.dripper().get().grams() + settings.dose().get().grams();
    double beverage = water - (removed - dry);
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
