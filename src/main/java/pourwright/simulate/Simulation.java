package pourwright.simulate;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import pourwright.plan.Plan;
import pourwright.plan.PlannedPour;
import pourwright.plan.Start;
import pourwright.reading.Reading;
import pourwright.reading.Stability;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.simulate.Truth.Drained;
import pourwright.simulate.Truth.Lift;
import pourwright.simulate.Truth.Pour;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * One run of a plan by a simulated brewer, from the empty scale to the dripper lifted off, reading
 * by reading. The same plan, scenario, rig and seed give the same run.
 *
 * <p>Server, dripper and ground coffee are put on first, then the scales are zeroed, then the pours
 * begin. A step takes constant time and makes no objects.
 */
public final class Simulation implements Weighing {
  static final long STEP_NANOS = 5_000_000;
  static final double STEP = STEP_NANOS * 1e-9;

  private static final double SERVER_GRAMS = 262;
  private static final double DRIPPER_GRAMS = 131;
  private static final double SERVER_ON = 1.0;
  private static final double DRIPPER_ON = 3.2;
  private static final double COFFEE_FROM = 5.5;
  private static final double COFFEE_SECONDS = 0.6;
  static final double TARE_AT = 9.5;
  private static final double FIRST_WATER = 12.0;

  /** Where several rigs share the hands, the first of all is poured on then. */
  private static final double FIRST_OF_ALL = FIRST_WATER + 0.5;

  private static final double PLACING_SECONDS = 0.25;
  static final double PLACING_PUSH_GRAMS = 60;
  private static final double POUR_HEIGHT_METRES = 0.18;

  /** Out of an open bed (g/s); common practice, no source: 0.01 to 0.06. */
  private static final double EVAPORATION = 0.02;

  /** From bed to bed, as a share; a choice. */
  private static final double PERMEABILITY_SPREAD = 0.015;

  private static final double LIFT_AFTER_DRY = 3.0;
  private static final double LONGEST_DRAWDOWN = 90;
  private static final double LIFT_SECONDS = 0.3;
  private static final double REST_AFTER_LIFT = 4.0;
  private static final double DRIP_GRAMS = 0.06;

  private final Rig rig;
  private final List<WeighedPlace> scales;
  private final FallingStream stream = new FallingStream(POUR_HEIGHT_METRES, STEP);
  private final DrainingBed bed;
  private final Brewer brewer;
  private final Disturbances disturbances = new Disturbances();
  private final List<Mishap> duringPours = new ArrayList<>();
  private final List<Mishap> betweenPours = new ArrayList<>();
  private final SplittableRandom chance;
  private final double doseGrams;
  private final int plannedPours;

  /** Not before this the dripper is taken off (s). */
  private final double liftNotBefore;

  private long step;
  private boolean hasTared;
  private double landedGrams;
  private double drainedGrams;
  private double evaporatedGrams;
  private boolean isLanding;
  private double pourStart;
  private double pourFrom;
  private double lastEnd = Double.NaN;
  private double lastDry = Double.NaN;
  private double dripAt = Double.NaN;
  private double tareAgainAt = Double.NaN;
  private double liftFrom = Double.NaN;
  private double removedGrams;
  private double everything;

  private WeighedPlace speaking;
  private long speakingNanos;
  private long speakingNanograms;
  private boolean isSpeakingStable;

  private final List<Pour> pours = new ArrayList<>();
  private final List<Drained> drained = new ArrayList<>();
  private final List<SessionTime> tares = new ArrayList<>();
  private Optional<Lift> lift = Optional.empty();

  /**
   * A run about to begin.
   *
   * @param rig what the scales stand under; it need not be the plan's own
   */
  public Simulation(Plan plan, Scenario scenario, Rig rig, long seed) {
    this(plan, scenario, rig, seed, Optional.empty());
  }

  /**
   * A run about to begin, alone or as one of several.
   *
   * @param moments when the hands come to this rig; empty: as its plan says, from its first water
   * @throws IllegalArgumentException when there is not one moment for each pour
   */
  public Simulation(Plan plan, Scenario scenario, Rig rig, long seed, Optional<Moments> moments) {
    this.rig = rig;
    SplittableRandom random = new SplittableRandom(seed);
    SplittableRandom hand = random.split();
    this.chance = random.split();
    this.doseGrams = plan.dose().grams();
    this.plannedPours = plan.pours().size();
    this.bed = new DrainingBed(doseGrams, Math.exp(PERMEABILITY_SPREAD * chance.nextGaussian()));
    double alone = FIRST_WATER + chance.nextDouble();
    double firstWaterSeconds =
        moments.map(hands -> firstWater(hands, scenario.skill(), chance)).orElse(alone);
    this.liftNotBefore = moments.map(hands -> FIRST_OF_ALL + hands.liftSeconds()).orElse(0.0);
    ScaleTraits traits = scenario.scale();
    this.brewer =
        new Brewer(
            moments.map(hands -> poursAt(plan, hands)).orElse(plan.pours()),
            scenario.skill(),
            hand,
            rig != Rig.WHOLE,
            firstWaterSeconds,
            stream.fallSeconds(STEP),
            stream.pushGrams(1),
            traits.displayLagSeconds());
    this.scales =
        rig.places().stream()
            .map(place -> new WeighedPlace(place, traits, random.split(), STEP))
            .toList();
    this.speaking = scales.get(0);
    for (Mishap mishap : Mishap.values()) {
      if (scenario.mishaps().contains(mishap)) {
        (mishap == Mishap.KETTLE_ON_RIM ? duringPours : betweenPours).add(mishap);
      }
    }
  }

  /** All but the first of all are late as their brewer is late. */
  private static double firstWater(Moments hands, Skill skill, SplittableRandom chance) {
    double late =
        hands.firstSeconds() == 0
            ? 0
            : skill.startBiasSeconds() + skill.startSpreadSeconds() * chance.nextGaussian();
    return FIRST_OF_ALL + Math.max(0, hands.firstSeconds() + late);
  }

  /** The same pours by the clock of their own first water. */
  private static List<PlannedPour> poursAt(Plan plan, Moments hands) {
    if (hands.pourSeconds().size() != plan.pours().size()) {
      throw new IllegalArgumentException(
          hands.pourSeconds().size() + " moments for " + plan.pours().size() + " pours");
    }
    return plan.pours().stream()
        .map(
            pour ->
                new PlannedPour(
                    pour.index(),
                    pour.add(),
                    pour.flow(),
                    new Start.AtClock(
                        SessionTime.ofSeconds(
                            hands.pourSeconds().get(pour.index() - 1) - hands.firstSeconds()))))
        .toList();
  }

  @Override
  public Rig rig() {
    return rig;
  }

  @Override
  public boolean advance() {
    while (!findSpeaker()) {
      if (isOver()) {
        return false;
      }
      moveOn();
    }
    speakingNanos = speaking.readyNanos();
    speakingNanograms = speaking.nanograms();
    isSpeakingStable = speaking.isStable();
    speaking.take();
    return true;
  }

  /** Turns to the scale whose readings have come up its link first, if any have by now. */
  private boolean findSpeaker() {
    long earliest = step * STEP_NANOS;
    boolean isFound = false;
    for (int i = 0; i < scales.size(); i++) {
      WeighedPlace scale = scales.get(i);
      if (scale.isReady() && scale.readyNanos() <= earliest) {
        isFound = true;
        earliest = scale.readyNanos() - 1; // of equals the first speaks
        speaking = scale;
      }
    }
    return isFound;
  }

  @Override
  public long nanos() {
    return speakingNanos;
  }

  @Override
  public long nanograms() {
    return speakingNanograms;
  }

  @Override
  public Stability stability() {
    return isSpeakingStable ? Stability.STABLE : Stability.MOVING;
  }

  @Override
  public Place place() {
    return speaking.place();
  }

  public Reading reading() {
    return new Reading(
        SessionTime.ofNanos(speakingNanos), Mass.ofNanograms(speakingNanograms), stability());
  }

  @Override
  public void tare(Place place) {
    for (WeighedPlace scale : scales) {
      if (scale.place() == place) {
        scale.tare();
        tares.add(SessionTime.ofSeconds(now()));
      }
    }
  }

  /** What really happened up to now. */
  public Truth truth() {
    return new Truth(pours, drained, lift, disturbances.happened(), tares);
  }

  private double now() {
    return step * STEP;
  }

  /** One step on, for somebody else who weighs; what its own scales say goes unheard. */
  void moveOnUnheard() {
    moveOn();
    while (findSpeaker()) {
      speaking.take();
    }
  }

  /** What this rig weighs with all that is done to it now (g). */
  double loadGrams() {
    return everything;
  }

  int poursMade() {
    return pours.size();
  }

  /** When the last pour so far ended (s); not a number before. */
  double lastPourEnd() {
    return lastEnd;
  }

  boolean isOver() {
    return now() > liftFrom + LIFT_SECONDS + REST_AFTER_LIFT;
  }

  private void moveOn() {
    step++;
    double now = now();
    double landing = pour(now);
    drain(now, landing);
    if (!hasTared && now >= TARE_AT) {
      hasTared = true;
      tareAll(now);
    }
    if (now >= tareAgainAt) {
      tareAgainAt = Double.NaN;
      tareAll(now);
    }
    considerLift(now);
    weigh(now, landing);
  }

  private void tareAll(double now) {
    for (int i = 0; i < scales.size(); i++) {
      scales.get(i).tare();
    }
    tares.add(SessionTime.ofSeconds(now));
  }

  /** Kettle and stream; the flow that lands (g/s). */
  private double pour(double now) {
    boolean isSeen = rig != Rig.SERVER;
    double leaving = brewer.flow(now, STEP, isSeen ? scales.get(0).shownGrams() : Double.NaN);
    double landing = stream.step(leaving);
    if (landing > 0 && !isLanding) {
      isLanding = true;
      pourStart = now;
      pourFrom = landedGrams;
      if (!duringPours.isEmpty() && !pours.isEmpty()) {
        disturbances.duringPour(duringPours.remove(0), now, chance);
      }
    }
    landedGrams += landing * STEP;
    if (isLanding && landing <= 0) {
      isLanding = false;
      endPour(now);
    }
    return landing;
  }

  private void endPour(double now) {
    lastEnd = now;
    lastDry = Double.NaN;
    bed.settle();
    pours.add(
        new Pour(
            pours.size() + 1,
            SessionTime.ofSeconds(pourStart),
            SessionTime.ofSeconds(now),
            Mass.ofGrams(landedGrams - pourFrom)));
    dripAt = chance.nextDouble() < 0.5 ? now + 0.3 + chance.nextDouble() : Double.NaN;
    if (!brewer.isDone()) {
      int gapsLeft = plannedPours - pours.size();
      int share = (betweenPours.size() + gapsLeft - 1) / gapsLeft;
      for (int i = 0; i < share && !betweenPours.isEmpty(); i++) {
        Mishap mishap = betweenPours.remove(0);
        double from = now + 7.5 * i;
        if (mishap == Mishap.TARE) {
          tareAgainAt = from + 4;
        } else {
          disturbances.betweenPours(mishap, from, chance);
        }
      }
    }
  }

  private void drain(double now, double landing) {
    double arrived = landing * STEP;
    if (now >= dripAt) {
      dripAt = Double.NaN;
      landedGrams += DRIP_GRAMS;
      arrived += DRIP_GRAMS;
    }
    drainedGrams += bed.step(STEP, arrived);
    if (landedGrams > 0 && !lift.isPresent()) {
      evaporatedGrams += bed.evaporate(EVAPORATION * STEP);
    }
    if (bed.ranDry() && !isLanding && !pours.isEmpty()) {
      brewer.sawBedDry(now);
      if (Double.isNaN(lastDry)) {
        lastDry = now;
        drained.add(new Drained(pours.size(), SessionTime.ofSeconds(now)));
      }
    }
  }

  private void considerLift(double now) {
    if (!Double.isNaN(liftFrom) || !brewer.isDone() || isLanding || Double.isNaN(lastEnd)) {
      return;
    }
    boolean isDry = now > lastDry + LIFT_AFTER_DRY;
    boolean isWaited = isDry || now > lastEnd + LONGEST_DRAWDOWN;
    if (pours.isEmpty() || !isWaited || now < liftNotBefore) {
      return;
    }
    liftFrom = now;
    double inDripper = DRIPPER_GRAMS + doseGrams + landedGrams - evaporatedGrams - drainedGrams;
    removedGrams = rig == Rig.SERVER ? SERVER_GRAMS + drainedGrams : inDripper;
    lift =
        Optional.of(
            new Lift(
                SessionTime.ofSeconds(now + LIFT_SECONDS),
                Mass.ofGrams(removedGrams),
                Mass.ofGrams(drainedGrams)));
  }

  private void weigh(double now, double landing) {
    double hands = placing(now, SERVER_ON) + placing(now, DRIPPER_ON);
    double pushes = disturbances.gramsAt(now) + hands;
    double server = now >= SERVER_ON ? SERVER_GRAMS : 0;
    double dripper = now >= DRIPPER_ON ? DRIPPER_GRAMS : 0;
    double coffee = doseGrams * Math.min(1, Math.max(0, (now - COFFEE_FROM) / COFFEE_SECONDS));
    double gone = removedGrams * lifted(now);
    everything =
        server
            + dripper
            + coffee
            + landedGrams
            - evaporatedGrams
            + stream.pushGrams(landing)
            + pushes
            - gone;
    double handsOnServer = rig == Rig.SERVER ? placing(now, SERVER_ON) : hands;
    double serverAlone =
        server
            + drainedGrams
            + (rig == Rig.SERVER ? disturbances.gramsAt(now) + handsOnServer - gone : 0);
    boolean isHeard = disturbances.isLinkUp(now);
    for (int i = 0; i < scales.size(); i++) {
      WeighedPlace scale = scales.get(i);
      scale.step(now, scale.place() == Place.WHOLE ? everything : serverAlone, isHeard);
    }
  }

  /** The hand that puts a vessel down (g). */
  private static double placing(double now, double at) {
    double age = now - at;
    return age < 0 || age > PLACING_SECONDS ? 0 : PLACING_PUSH_GRAMS * (1 - age / PLACING_SECONDS);
  }

  private double lifted(double now) {
    return Double.isNaN(liftFrom) ? 0 : Math.min(1, (now - liftFrom) / LIFT_SECONDS);
  }
}
