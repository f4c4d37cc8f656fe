package pourwright.simulate;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import pourwright.plan.Plan;
import pourwright.reading.Stability;
import pourwright.rig.Place;
import pourwright.rig.Rig;

/**
 * Several rigs, one pair of hands and one scale that is moved from rig to rig.
 *
 * <p>All rigs are put together and the scale is zeroed under the first before the first water. Once
 * the pours of a visit are made, the rig is lifted off, the scale carried over and the next rig put
 * on it. Vessels are not quite alike from rig to rig. The hand pours by its own eye on each rig.
 */
public final class RovingSimulation implements Weighing {
  private static final double STEP = Simulation.STEP;

  /** From the last water until the rig is lifted off the scale (s); a choice. */
  private static final double AFTER_POUR = 1.2;

  private static final double LIFTING_SECONDS = 0.35;
  private static final double CARRYING_SECONDS = 2.2;
  private static final double PLACING_SECONDS = 0.35;

  /** What a scale shows of being carried (g); a choice. */
  private static final double SWAY_GRAMS = 7;

  /** Vessels of one make differ by about this (g); a choice. */
  private static final double VESSEL_SPREAD_GRAMS = 4;

  private final List<Simulation> rigs = new ArrayList<>();
  private final double[] vesselGrams;
  private final List<Visit> visits;
  private final WeighedPlace scale;
  private final int[] pouredBefore;
  private int visit;
  private long step;
  private boolean hasTared;
  private double leaving = Double.NaN;
  private double placedAt = Double.NEGATIVE_INFINITY;
  private long nanos;
  private long nanograms;
  private boolean isStable;

  /**
   * A rig.
   *
   * @param moments when the hands come to it
   */
  public record Served(Plan plan, Moments moments) {}

  /**
   * A stay of the scale under one rig.
   *
   * @param rig from 0
   * @param pours made in it
   */
  public record Visit(int rig, int pours) {}

  public RovingSimulation(List<Served> served, List<Visit> visits, Scenario scenario, long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    this.vesselGrams = new double[served.size()];
    for (int i = 0; i < served.size(); i++) {
      rigs.add(
          new Simulation(
              served.get(i).plan(),
              scenario,
              Rig.WHOLE,
              random.nextLong(),
              Optional.of(served.get(i).moments())));
      vesselGrams[i] = VESSEL_SPREAD_GRAMS * random.nextGaussian();
    }
    this.visits = List.copyOf(visits);
    this.pouredBefore = new int[served.size()];
    this.scale = new WeighedPlace(Place.WHOLE, scenario.scale(), random.split(), STEP);
  }

  @Override
  public Rig rig() {
    return Rig.WHOLE;
  }

  @Override
  public boolean advance() {
    while (!scale.isReady() || scale.readyNanos() > step * Simulation.STEP_NANOS) {
      if (rigs.stream().allMatch(Simulation::isOver)) {
        return false;
      }
      moveOn();
    }
    nanos = scale.readyNanos();
    nanograms = scale.nanograms();
    isStable = scale.isStable();
    scale.take();
    return true;
  }

  private void moveOn() {
    step++;
    double now = step * STEP;
    rigs.forEach(Simulation::moveOnUnheard);
    if (!hasTared && now >= Simulation.TARE_AT) {
      hasTared = true;
      scale.tare();
    }
    considerLeaving(now);
    scale.step(now, load(now), true);
  }

  private void considerLeaving(double now) {
    Visit here = visits.get(visit);
    Simulation rig = rigs.get(here.rig());
    boolean isPoured = rig.poursMade() >= pouredBefore[here.rig()] + here.pours();
    if (Double.isNaN(leaving)) {
      if (isPoured && visit + 1 < visits.size() && now > rig.lastPourEnd() + AFTER_POUR) {
        leaving = now;
      }
    } else if (now > leaving + LIFTING_SECONDS + CARRYING_SECONDS) {
      pouredBefore[here.rig()] += here.pours();
      visit++;
      leaving = Double.NaN;
      placedAt = now;
    }
  }

  private double load(double now) {
    int rig = visits.get(visit).rig();
    double whole = rigs.get(rig).loadGrams() + (now > 1 ? vesselGrams[rig] : 0);
    if (!Double.isNaN(leaving)) {
      double gone = Math.min(1, (now - leaving) / LIFTING_SECONDS);
      double sway = gone < 1 ? 0 : SWAY_GRAMS * Math.sin(9 * now) * Math.sin(2.3 * now);
      return whole * (1 - gone) + sway;
    }
    double age = (now - placedAt) / PLACING_SECONDS;
    return age >= 1 ? whole : whole * age + Simulation.PLACING_PUSH_GRAMS * age * (1 - age);
  }

  @Override
  public long nanos() {
    return nanos;
  }

  @Override
  public long nanograms() {
    return nanograms;
  }

  @Override
  public Stability stability() {
    return isStable ? Stability.STABLE : Stability.MOVING;
  }

  @Override
  public Place place() {
    return Place.WHOLE;
  }

  @Override
  public void tare(Place place) {
    scale.tare();
  }

  /** What really happened to one rig so far. */
  public Truth truth(int rig) {
    return rigs.get(rig).truth();
  }
}
