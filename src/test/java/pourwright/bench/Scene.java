package pourwright.bench;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import pourwright.rig.Rig;

/**
 * What happened on the bench, on a fine grid of time: the forces on both scales, the tares, and the
 * truth.
 */
final class Scene {
  static final double STEP_SECONDS = 0.0025;

  private static final double GRAVITY = 9.81;

  private final Conditions conditions;
  private final Dice dice;
  private final double serverGrams;
  private final double dripperGrams;
  private final double doseGrams;

  private final List<Truth.Pour> pours = new ArrayList<>();
  private final List<Truth.Mishap> mishaps = new ArrayList<>();
  private final List<Double> tares = new ArrayList<>();
  private final List<Push> pushes = new ArrayList<>();
  private final List<Landing> landings = new ArrayList<>();
  private final List<Vessel> vessels = new ArrayList<>();
  private double lengthSeconds;
  private double liftSeconds = Double.NaN;
  private double restSeconds;
  private boolean isPlacingSeen;

  private double[] whole = new double[0];
  private double[] server = new double[0];
  private Truth truth = new Truth(List.of(), Optional.empty(), List.of(), List.of(), 0);

  /** A force that comes and goes: grams by seconds since its start. */
  private record Push(double start, double length, Shape shape) {
    interface Shape {
      double at(double seconds);
    }
  }

  /** Water of one pour or a single drip. */
  private static final class Landing {
    private final double start;
    private final double[] flow;
    private final boolean isDrip;

    Landing(double start, double[] flow, boolean isDrip) {
      this.start = start;
      this.flow = flow;
      this.isDrip = isDrip;
    }
  }

  /** The rig in the hand: when, how long it takes to lift and to set down. */
  private record Vessel(double start, double up, double length, double down) {}

  Scene(Conditions conditions, Dice dice) {
    this.conditions = conditions;
    this.dice = dice;
    this.serverGrams = dice.between(120, 500);
    this.dripperGrams = dice.between(80, 380);
    this.doseGrams = dice.between(12, 25);
    prepare();
    brew();
    disturb();
    play();
  }

  double doseGrams() {
    return doseGrams;
  }

  /** Force on the scale under everything (g), one value per step. */
  double[] whole() {
    return whole.clone();
  }

  /** Force on the scale under the server (g), one value per step. */
  double[] server() {
    return server.clone();
  }

  Truth truth() {
    return truth;
  }

  List<Double> tares() {
    return List.copyOf(tares);
  }

  /** Whether the display reads zero when the recording starts. */
  boolean startsTared() {
    return conditions.brew().preparation() != Conditions.Preparation.UNTARED;
  }

  private boolean seesBrewer() {
    return conditions.rig() != Rig.SERVER;
  }

  private void prepare() {
    double t = dice.between(1.5, 5);
    switch (conditions.brew().preparation()) {
      case READY, UNTARED -> {}
      case PLACED -> {
        t = place(t, serverGrams);
        t = maybeTare(t, 0.6);
        if (seesBrewer()) {
          t = place(t, dripperGrams);
          boolean isTared = dice.chance(0.5);
          t = maybeTare(t, isTared ? 1 : 0);
          t = tipCoffee(t);
          isPlacingSeen = true;
        }
        t = maybeTare(t, 0.7);
      }
      case COFFEE_LAST -> {
        if (seesBrewer()) {
          t = tipCoffee(t);
          t = maybeTare(t, 0.6);
        }
      }
    }
    restSeconds = t + dice.between(2.5, 8);
  }

  private double place(double t, double grams) {
    double rise = dice.between(0.03, 0.2);
    double ring = grams * dice.between(0, 0.15);
    double hertz = dice.between(6, 14);
    pushes.add(
        new Push(
            t,
            Double.POSITIVE_INFINITY,
            s -> grams * ramp(s / rise) + ringing(s - rise, ring, hertz, 0.12)));
    mishaps.add(new Truth.Mishap("placed", t, t + rise));
    return t + rise + dice.between(1.5, 4);
  }

  private double tipCoffee(double t) {
    int lumps = dice.countBetween(1, 5);
    double[] share = new double[lumps];
    double[] at = new double[lumps];
    double total = 0;
    double length = dice.between(0.2, 1.2);
    for (int i = 0; i < lumps; i++) {
      share[i] = dice.between(0.3, 1);
      at[i] = dice.between(0, length);
      total += share[i];
    }
    double sum = total;
    pushes.add(
        new Push(
            t,
            Double.POSITIVE_INFINITY,
            s -> {
              double grams = 0;
              for (int i = 0; i < lumps; i++) {
                grams += doseGrams * share[i] / sum * ramp((s - at[i]) / 0.12);
              }
              return grams;
            }));
    mishaps.add(new Truth.Mishap("coffee", t, t + length));
    return t + length + dice.between(1.5, 4);
  }

  private double maybeTare(double t, double probability) {
    if (!dice.chance(probability)) {
      return t;
    }
    tares.add(t);
    if (dice.chance(0.4)) {
      pressBefore(t);
    }
    return t + dice.between(1, 3);
  }

  /** A finger on the button pushes the scale; the display goes to zero once that is forgotten. */
  private void pressBefore(double tare) {
    double grams = dice.octaveBetween(3, 60);
    double length = dice.between(0.1, 0.22);
    double t = tare - length - 0.1 - 5 * conditions.sensor().lagSeconds();
    pushes.add(new Push(t, length, s -> grams * bump(s / length)));
    mishaps.add(new Truth.Mishap("press", t, t + length));
  }

  private void brew() {
    Conditions.Brew brew = conditions.brew();
    Hand hand = Hand.draw(dice.split());
    double t = restSeconds;
    for (int i = 0; i < brew.pours(); i++) {
      double grams = brew.grams().draw(dice);
      double[] flow = hand.pour(grams, brew.flow().draw(dice), STEP_SECONDS, dice.split());
      double start = Math.round(t / STEP_SECONDS) * STEP_SECONDS;
      double end = start + flow.length * STEP_SECONDS;
      landings.add(new Landing(start, flow, false));
      pours.add(new Truth.Pour(start, end, grams, false, Optional.empty()));
      double gap = brew.gap().draw(dice);
      if (dice.chance(brew.dripChance())) {
        int drips = dice.countBetween(1, 3);
        for (int k = 0; k < drips; k++) {
          double at = end + dice.between(0.15, Math.min(2.5, gap - 0.5));
          double[] drop = new double[4];
          Arrays.fill(drop, dice.between(0.03, 0.12) / (4 * STEP_SECONDS));
          landings.add(new Landing(at, drop, true));
        }
      }
      t = end + gap;
    }
    double last = pours.get(pours.size() - 1).endSeconds();
    if (brew.isCut()) {
      int which = dice.countBetween(1, pours.size()) - 1;
      Truth.Pour cut = pours.get(which);
      double length = cut.endSeconds() - cut.startSeconds();
      lengthSeconds =
          cut.startSeconds() + Math.max(Math.min(2, length), dice.between(0.4, 0.9) * length);
      cutShort(which);
      return;
    }
    lengthSeconds = last + dice.between(8, 30);
    if (brew.isLifted() && seesBrewer()) {
      liftSeconds = lengthSeconds;
      lengthSeconds += dice.between(2.5, 8);
    }
  }

  private void cutShort(int which) {
    Truth.Pour cut = pours.get(which);
    double landed = 0;
    for (Landing landing : landings) {
      if (!landing.isDrip && landing.start == cut.startSeconds()) {
        int steps = (int) ((lengthSeconds - landing.start) / STEP_SECONDS);
        for (int i = 0; i < Math.min(steps, landing.flow.length); i++) {
          landed += landing.flow[i] * STEP_SECONDS;
        }
      }
    }
    while (pours.size() > which) {
      pours.remove(pours.size() - 1);
    }
    pours.add(new Truth.Pour(cut.startSeconds(), lengthSeconds, landed, true, Optional.empty()));
  }

  private void disturb() {
    for (int i = 0; i < conditions.mishaps().tares(); i++) {
      boolean isPouring = dice.chance(0.25);
      double at = isPouring ? inPour() : inRest(1.2);
      if (!Double.isNaN(at)) {
        tares.add(at);
        if (dice.chance(0.3)) {
          pressBefore(at);
        }
      }
    }
    tares.sort(Double::compare);
    for (int i = 0; i < conditions.mishaps().disturbances(); i++) {
      String kind = dice.pick("rim", "lean", "swirl", "thump", "object", "vessel");
      switch (kind) {
        case "rim" -> rim();
        case "lean" -> lean();
        case "swirl" -> swirl();
        case "thump" -> thump();
        case "object" -> object();
        default -> vessel();
      }
    }
  }

  /** A moment in a random pour, or not a number. */
  private double inPour() {
    Truth.Pour pour = pours.get(dice.countBetween(1, pours.size()) - 1);
    double length = pour.endSeconds() - pour.startSeconds();
    return length < 3 ? Double.NaN : pour.startSeconds() + dice.between(1, length - 1);
  }

  /** A moment after a random pour with {@code room} seconds of rest around it, or not a number. */
  private double inRest(double room) {
    for (int attempt = 0; attempt < 20; attempt++) {
      int index = dice.countBetween(0, pours.size() - 1);
      double from = pours.get(index).endSeconds() + 1.2;
      double until =
          index + 1 < pours.size()
              ? pours.get(index + 1).startSeconds() - 0.8
              : (Double.isNaN(liftSeconds) ? lengthSeconds : liftSeconds) - 1.0;
      if (until - from > room) {
        double at = dice.between(from, until - room);
        double until2 = at + room;
        if (pushes.stream()
            .noneMatch(
                push ->
                    Double.isFinite(push.length)
                        && push.start < until2 + 0.5
                        && push.start + push.length > at - 0.5)) {
          return at;
        }
      }
    }
    return Double.NaN;
  }

  private void add(String kind, double start, double length, Push.Shape shape) {
    if (!Double.isNaN(start)) {
      pushes.add(new Push(start, length, shape));
      mishaps.add(new Truth.Mishap(kind, start, start + length));
    }
  }

  private void rim() {
    double length = dice.between(0.2, 1.6);
    double grams = dice.octaveBetween(5, 150);
    double edge = Math.min(length / 3, dice.between(0.05, 0.25));
    double tremble = dice.between(0, 0.3);
    double hertz = dice.between(2, 6);
    double start = dice.chance(0.3) ? inPour() : inRest(length);
    add(
        "rim",
        start,
        length,
        s ->
            grams
                * Math.min(ramp(s / edge), ramp((length - s) / edge))
                * (1 + tremble * Math.sin(2 * Math.PI * hertz * s)));
  }

  private void lean() {
    double length = dice.between(1, 6);
    double grams = dice.octaveBetween(4, 80);
    double up = dice.between(0.15, 0.9);
    double down = dice.between(0.1, 0.6);
    double tremble = dice.between(0, 0.15);
    double hertz = dice.between(0.5, 3);
    add(
        "lean",
        inRest(length),
        length,
        s ->
            grams
                * Math.max(0, Math.min(ramp(s / up), ramp((length - s) / down)))
                * (1 + tremble * Math.sin(2 * Math.PI * hertz * s)));
  }

  private void swirl() {
    double length = dice.between(2, 6);
    double grams = dice.octaveBetween(2, 30);
    double bias = dice.between(-0.5, 0.8) * grams;
    double hertz = dice.between(0.8, 2.5);
    add(
        "swirl",
        inRest(length),
        length,
        s ->
            Math.min(ramp(s / 0.4), ramp((length - s) / 0.4))
                * (bias + grams * Math.sin(2 * Math.PI * hertz * s)));
  }

  private void thump() {
    double grams = dice.octaveBetween(5, 120) * (dice.chance(0.5) ? 1 : -1);
    double hertz = dice.between(4, 14);
    double decay = dice.between(0.05, 0.2);
    double start = dice.chance(0.4) ? inPour() : inRest(1);
    add("thump", start, 1.0, s -> ringing(s, grams, hertz, decay));
  }

  private void object() {
    double length = dice.between(1.5, 8);
    double grams = dice.octaveBetween(3, 120);
    double rise = dice.between(0.03, 0.15);
    double start = dice.chance(0.2) ? inPour() - length / 2 : inRest(length);
    add(
        "object",
        start,
        length,
        s ->
            grams * Math.min(ramp(s / rise), ramp((length - s) / rise))
                + ringing(s - rise, 0.1 * grams, 9, 0.1));
  }

  /** The whole rig is lifted off and put back. */
  private void vessel() {
    double length = dice.between(1.2, 4);
    double start = inRest(length + 0.5);
    if (Double.isNaN(start)) {
      return;
    }
    double up = dice.between(0.08, 0.4);
    double down = dice.between(0.05, 0.25);
    double grip = dice.between(0, 30);
    pushes.add(new Push(start, length + 0.4, s -> grip * bump((s + 0.05) / 0.15)));
    vessels.add(new Vessel(start + 0.1, up, length, down));
    mishaps.add(new Truth.Mishap("vessel", start, start + length + 0.3));
  }

  private double standingShare(double t) {
    double share = 1;
    for (Vessel vessel : vessels) {
      double s = t - vessel.start;
      if (s > 0 && s < vessel.length) {
        share = 1 - Math.min(ramp(s / vessel.up), ramp((vessel.length - s) / vessel.down));
      }
    }
    return share;
  }

  /** Adds everything up, step by step. */
  private void play() {
    int steps = (int) (lengthSeconds / STEP_SECONDS);
    double[] landing = new double[steps];
    double[] jet = new double[steps];
    double height = dice.between(0.05, 0.25);
    double spoutSpeed = dice.between(0.2, 0.8);
    for (Landing water : landings) {
      double own = height * dice.between(0.8, 1.2);
      double speed = Math.sqrt(spoutSpeed * spoutSpeed + 2 * GRAVITY * own);
      double pushSeconds = conditions.brew().jetShare() * speed / GRAVITY;
      int from = (int) Math.round(water.start / STEP_SECONDS);
      for (int i = 0; i < water.flow.length && from + i < steps; i++) {
        landing[from + i] += water.flow[i];
        jet[from + i] += water.isDrip ? 0 : water.flow[i] * pushSeconds;
      }
    }
    double[] push = new double[steps];
    double[] placed = new double[steps];
    for (Push each : pushes) {
      double[] felt = Double.isInfinite(each.length) ? placed : push;
      int from = Math.max(0, (int) (each.start / STEP_SECONDS));
      double until = Math.min(steps, (each.start + each.length) / STEP_SECONDS);
      for (int i = from; i < until; i++) {
        felt[i] += each.shape.at(i * STEP_SECONDS - each.start);
      }
    }
    Conditions.Preparation preparation = conditions.brew().preparation();
    double wholeBase =
        switch (preparation) {
          case READY, UNTARED -> serverGrams + dripperGrams + doseGrams;
          case PLACED -> 0;
          case COFFEE_LAST -> serverGrams + dripperGrams;
        };
    double serverBase =
        preparation == Conditions.Preparation.PLACED && !seesBrewer() ? 0 : serverGrams;
    Bed bed = new Bed(doseGrams, dice.split());
    whole = new double[steps];
    server = new double[steps];
    double in = 0;
    double out = 0;
    double gone = 0;
    double[] drained = new double[pours.size()];
    Arrays.fill(drained, Double.NaN);
    int current = -1;
    double liftRise = dice.between(0.04, 0.15);
    double grab = dice.between(-5, 20);
    double removed = 0;
    double beverage = 0;
    for (int i = 0; i < steps; i++) {
      double t = i * STEP_SECONDS;
      boolean isOff = t >= liftSeconds;
      if (!isOff) {
        in += landing[i] * STEP_SECONDS;
        out += bed.pass(landing[i] * STEP_SECONDS, STEP_SECONDS);
        if (in > 1) {
          gone += conditions.brew().evaporationGramsPerSecond() * STEP_SECONDS;
        }
      }
      while (current + 1 < pours.size() && t >= pours.get(current + 1).startSeconds()) {
        current++;
      }
      if (current >= 0
          && Double.isNaN(drained[current])
          && t > pours.get(current).endSeconds()
          && bed.standingGrams() < 1e-9) {
        drained[current] = t;
      }
      double off =
          isOff || t > liftSeconds - liftRise / 2 ? ramp((t - liftSeconds) / liftRise + 0.5) : 0;
      removed = dripperGrams + doseGrams + in - gone - out;
      beverage = out;
      double hand = grab * bump((t - liftSeconds + 0.35) / 0.4);
      double standing = standingShare(t);
      whole[i] =
          (wholeBase + placed[i] + in - gone) * standing - off * removed + jet[i] + push[i] + hand;
      server[i] =
          seesBrewer() ? serverBase + out : (serverBase + placed[i] + out) * standing + push[i];
    }
    List<Truth.Pour> withDrained = new ArrayList<>();
    for (int i = 0; i < pours.size(); i++) {
      Truth.Pour pour = pours.get(i);
      double at = drained[i];
      withDrained.add(
          new Truth.Pour(
              pour.startSeconds(),
              pour.endSeconds(),
              pour.grams(),
              pour.isCut(),
              Double.isNaN(at) ? Optional.empty() : Optional.of(at)));
    }
    mishaps.removeIf(mishap -> mishap.startSeconds() > lengthSeconds);
    tares.removeIf(at -> at > lengthSeconds);
    tares.forEach(at -> mishaps.add(new Truth.Mishap("tare", at, at)));
    truth =
        new Truth(
            List.copyOf(withDrained),
            Double.isNaN(liftSeconds)
                ? Optional.empty()
                : Optional.of(new Truth.Lift(liftSeconds, removed, beverage, isPlacingSeen)),
            List.copyOf(mishaps),
            List.of(),
            lengthSeconds);
  }

  private static double ramp(double along) {
    return Math.max(0, Math.min(1, along));
  }

  private static double bump(double along) {
    return along > 0 && along < 1 ? Math.sin(Math.PI * along) : 0;
  }

  private static double ringing(double seconds, double grams, double hertz, double decaySeconds) {
    return seconds < 0
        ? 0
        : grams * Math.exp(-seconds / decaySeconds) * Math.sin(2 * Math.PI * hertz * seconds);
  }
}
