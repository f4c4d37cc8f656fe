package pourwright.simulate;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.SplittableRandom;
import pourwright.reading.Reading;
import pourwright.reading.Stability;
import pourwright.rig.Place;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * One simulated scale by itself and a hand that puts things on it. The same traits, flaws, seed and
 * deeds give the same readings.
 */
public final class TestedScale {
  private static final long STEP_NANOS = 5_000_000;
  private static final double STEP = STEP_NANOS * 1e-9;
  private static final double LONGEST_SECONDS = 2 * 60 * 60;
  private static final double QUICKEST_HAND = 0.02;
  private static final double SLOWEST_HAND = 0.1;

  private final Flaws flaws;
  private final WeighedPlace scale;
  private final SplittableRandom hand;
  private final List<Deed> deeds = new ArrayList<>();
  private final Deque<Double> late = new ArrayDeque<>();
  private final int lateSteps;

  private long step;
  private double loadGrams;
  private double right;
  private double back;
  private double greatestGrams;
  private double creepGrams;
  private double placingGrams;
  private double drippedGrams;
  private double feltGrams;
  private double speakingGrams;
  private long speakingNanos;
  private boolean isSpeakingStable;

  /** Something the hand does from {@code from} to {@code to} (s). */
  private static final class Deed {
    private final Kind kind;
    private final double from;
    private final double to;
    private final double grams;
    private final double right;
    private final double back;
    private boolean hasBegun;

    Deed(Kind kind, double from, double to, double grams, double right, double back) {
      this.kind = kind;
      this.from = from;
      this.to = to;
      this.grams = grams;
      this.right = right;
      this.back = back;
    }

    private enum Kind {
      MOVE,
      DRIP,
      LEAN,
      SHAKE,
      CUT,
      TARE
    }
  }

  public TestedScale(ScaleTraits traits, Flaws flaws, long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    this.flaws = flaws;
    this.hand = random.split();
    this.scale = new WeighedPlace(Place.WHOLE, traits, flaws.freezeGrams(), random.split(), STEP);
    this.lateSteps = (int) Math.round(flaws.deadSeconds() / STEP);
  }

  /** The present (s). */
  public double now() {
    return step * STEP;
  }

  /** Puts {@code grams} on, or takes them off when negative, in the middle of the pan. */
  public void move(double grams, double atSeconds) {
    move(grams, 0, 0, atSeconds);
  }

  /**
   * Puts {@code grams} on, or takes them off when negative.
   *
   * @param rightSide −1 halfway to the left edge, 1 halfway to the right one
   * @param backSide −1 halfway to the front edge, 1 halfway to the back one
   * @param atSeconds middle of the movement (s)
   */
  public void move(double grams, double rightSide, double backSide, double atSeconds) {
    double length = QUICKEST_HAND + (SLOWEST_HAND - QUICKEST_HAND) * hand.nextDouble();
    deeds.add(
        new Deed(
            Deed.Kind.MOVE,
            atSeconds - length / 2,
            atSeconds + length / 2,
            grams,
            rightSide,
            backSide));
  }

  /** Lets {@code grams} of water drip in. */
  public void drip(double grams, double atSeconds, double seconds) {
    deeds.add(new Deed(Deed.Kind.DRIP, atSeconds, atSeconds + seconds, grams, 0, 0));
  }

  /** Leans on the scale for a moment. */
  public void lean(double grams, double atSeconds, double seconds) {
    deeds.add(new Deed(Deed.Kind.LEAN, atSeconds, atSeconds + seconds, grams, 0, 0));
  }

  /** Shakes the table, to and fro by {@code grams}. */
  public void shake(double grams, double atSeconds, double seconds) {
    deeds.add(new Deed(Deed.Kind.SHAKE, atSeconds, atSeconds + seconds, grams, 0, 0));
  }

  /** Switches the scale off; it zeroes itself when it comes back. */
  public void cut(double atSeconds, double seconds) {
    deeds.add(new Deed(Deed.Kind.CUT, atSeconds, atSeconds + seconds, 0, 0, 0));
  }

  /** Presses the tare key. */
  public void tare() {
    deeds.add(new Deed(Deed.Kind.TARE, now(), now(), 0, 0, 0));
  }

  /** Forgets what was planned and has not begun. */
  public void drop() {
    deeds.removeIf(deed -> deed.from > now());
  }

  /**
   * Goes on to the next reading.
   *
   * @return false when the scale switches itself off after hours
   */
  public boolean advance() {
    while (!scale.isReady() || scale.readyNanos() > step * STEP_NANOS) {
      if (now() > LONGEST_SECONDS) {
        return false;
      }
      moveOn();
    }
    speakingNanos = scale.readyNanos();
    speakingGrams = scale.nanograms();
    isSpeakingStable = scale.isStable();
    scale.take();
    return true;
  }

  public Reading reading() {
    return new Reading(
        SessionTime.ofNanos(speakingNanos),
        Mass.ofNanograms(Math.round(speakingGrams)),
        isSpeakingStable ? Stability.STABLE : Stability.MOVING);
  }

  private void moveOn() {
    step++;
    double now = now();
    double extra = 0;
    boolean isOn = true;
    for (Deed deed : deeds) {
      if (now < deed.from) {
        continue;
      }
      switch (deed.kind) {
        case MOVE -> moving(deed, now);
        case DRIP -> {
          double share = Math.min(STEP, Math.max(0, deed.to - now)) / (deed.to - deed.from);
          loadGrams += deed.grams * share;
          drippedGrams += deed.grams * share;
        }
        case LEAN -> extra += deed.grams;
        case SHAKE -> extra += deed.grams * Math.sin(2 * Math.PI * 1.3 * (now - deed.from));
        case CUT -> isOn = false;
        case TARE -> scale.tare();
        default -> throw new IllegalStateException(deed.kind.toString());
      }
    }
    boolean isBack = deeds.stream().anyMatch(d -> d.kind == Deed.Kind.CUT && d.to <= now);
    deeds.removeIf(deed -> deed.to <= now);
    scale.step(now, felt(now) + extra, isOn);
    if (isBack) {
      scale.tare();
    }
  }

  /** A load comes or goes within a moment. */
  private void moving(Deed deed, double now) {
    if (!deed.hasBegun) {
      deed.hasBegun = true;
      placingGrams = flaws.placingSpreadGrams() * hand.nextGaussian();
      if (deed.grams > 0) {
        right = deed.right;
        back = deed.back;
      }
    }
    double length = deed.to - deed.from;
    double done = Math.min(1, (now - deed.from) / length);
    double before = Math.max(0, (now - STEP - deed.from) / length);
    // all that is left when the water dripped in goes with the vessel
    double whole = deed.grams < 0 && drippedGrams > 0 ? deed.grams - drippedGrams : deed.grams;
    loadGrams += whole * (done - before);
    if (done >= 1) {
      if (deed.grams < 0) {
        drippedGrams = 0;
      }
      if (Math.abs(loadGrams) < 1e-9) {
        loadGrams = 0;
      }
      greatestGrams = loadGrams == 0 ? 0 : Math.max(greatestGrams, loadGrams);
    }
  }

  /** What the load cell makes of the load. */
  private double felt(double now) {
    creepGrams += (flaws.creep().share() * loadGrams - creepGrams) * STEP / flaws.creep().seconds();
    double felt =
        loadGrams * (1 + flaws.corners().rightShare() * right + flaws.corners().backShare() * back)
            + flaws.errorGrams(loadGrams)
            + flaws.hysteresis(loadGrams, greatestGrams)
            + creepGrams
            + (loadGrams > 0 ? placingGrams : 0)
            + zeroGrams(now);
    feltGrams = felt;
    if (lateSteps == 0) {
      return felt;
    }
    late.addLast(felt);
    return late.size() > lateSteps ? late.removeFirst() : late.getFirst();
  }

  /** What the load cell feels now, before filter, drift, noise and rounding (g). */
  public double feltGrams() {
    return feltGrams;
  }

  /** By how much zero is off while it warms up (g). */
  private double zeroGrams(double atSeconds) {
    return flaws.warmUp().grams() * Math.exp(-atSeconds / flaws.warmUp().seconds());
  }
}
