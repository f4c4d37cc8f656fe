package pourwright.performance;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import pourwright.metrology.UncertaintyBudget;
import pourwright.metrology.UncertaintyBudget.Contribution;
import pourwright.statistic.Sample;

/**
 * What the display makes of water that drips in slowly: whether it freezes and jumps, and whether
 * auto-zero swallows it. The true gain is what lifting the vessel takes off less what putting it on
 * added: both are sudden, and no auto-zero follows them.
 *
 * @param gained true gain (g)
 * @param swallowed true gain less shown gain (g)
 * @param flow mean of the slow flow (g/s)
 * @param freeze the change that a frozen display hides before it jumps (g); empty when it follows
 *     step by step
 */
public record SlowWater(
    Estimate gained, Estimate swallowed, double flow, Optional<Estimate> freeze) {

  /** A jump of more than this many steps and of more than the water of the wait is a thaw. */
  private static final double JUMP_STEPS = 1.6;

  private static final int LEAST_JUMPS = 3;

  /**
   * What one drip test tells.
   *
   * @param empty pan before the vessel came
   * @param placed vessel on it
   * @param began vessel, tared, before the drips
   * @param ended vessel after the drips
   * @param lifted pan after the vessel went
   * @param dripping all readings of the drips
   */
  public static SlowWater of(
      Plateau empty,
      Plateau placed,
      Plateau began,
      Plateau ended,
      Plateau lifted,
      Series dripping,
      Display display) {
    double gained = ended.grams() - lifted.grams() - (placed.grams() - empty.grams());
    double shown = ended.grams() - began.grams();
    UncertaintyBudget both =
        UncertaintyBudget.of(
            plateau("pan before", empty, display),
            plateau("vessel before", placed, display),
            plateau("vessel after", ended, display),
            plateau("pan after", lifted, display));
    UncertaintyBudget lost =
        UncertaintyBudget.of(
            plateau("pan before", empty, display),
            plateau("vessel before", placed, display),
            plateau("tared", began, display),
            plateau("pan after", lifted, display));
    Optional<Estimate> freeze = freeze(dripping, display, gained);
    // a display that freezes may hide that much wherever it stands
    Contribution hidden =
        Contribution.rectangular("freezing", freeze.map(Estimate::value).orElse(0.0));
    return new SlowWater(
        Estimate.of(gained, both.with(hidden)),
        Estimate.of(gained - shown, lost.with(hidden)),
        dripping.span() == 0 ? 0 : gained / dripping.span(),
        freeze);
  }

  private static Contribution plateau(String cause, Plateau plateau, Display display) {
    return new Contribution(
        cause, display.plateauUncertainty(plateau.count()), Double.POSITIVE_INFINITY);
  }

  private static Optional<Estimate> freeze(Series dripping, Display display, double gained) {
    double step = display.stepGrams();
    double noise = display.noise().value();
    if (dripping.size() < 4 || dripping.span() == 0 || step == 0) {
      return Optional.empty();
    }
    double perReading = Math.max(0, gained) / (dripping.size() - 1);
    List<Double> jumps = new ArrayList<>();
    int changes = 0;
    for (int i = 1; i < dripping.size(); i++) {
      double change = dripping.grams(i) - dripping.grams(i - 1);
      if (change != 0) {
        changes++;
      }
      if (change > JUMP_STEPS * step + perReading) {
        jumps.add(change);
      }
    }
    if (jumps.size() < LEAST_JUMPS || jumps.size() < changes / 2) {
      return Optional.empty();
    }
    Sample sizes = Sample.of(jumps.stream().mapToDouble(Double::doubleValue).toArray());
    // It thaws at the first reading beyond the limit: half a reading of water late, and as soon as
    // the noise reaches the limit.
    UncertaintyBudget budget =
        UncertaintyBudget.of(
            new Contribution("jump to jump", sizes.standardError(), jumps.size() - 1.0),
            // every jump begins at a whole step, so all of them are rounded alike
            Contribution.ofStep("display step", step),
            Contribution.rectangular("water of one reading", perReading / 2),
            Contribution.rectangular("noise at the limit", 2 * noise));
    return Optional.of(
        Estimate.of(sizes.mean() - perReading / 2 + 0.5 * noise, budget).atLeastZero());
  }
}
