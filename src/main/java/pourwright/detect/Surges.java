package pourwright.detect;

import java.util.function.Consumer;
import pourwright.detect.PourEvent.BedDrained;
import pourwright.detect.PourEvent.Discarded;
import pourwright.detect.PourEvent.PourEnded;
import pourwright.detect.PourEvent.PourStarted;

/**
 * Pours told from what runs out of the bed, where only the server is weighed: the outflow rises
 * while water is poured onto the bed, and falls from the moment on when it is not.
 *
 * <p>What else moves the weight, and whether anything runs out at all, is told by the {@link Phase}
 * of the scale: its pour lasts from the first that runs out until the bed is dry, over any number
 * of pours onto it.
 */
final class Surges {
  private static final double BLOCK_SECONDS = 0.25;

  /** A bend is sought in the last of these first, then further back (s). */
  private static final double[] WINDOWS = {3, 6, 12};

  private static final int BLOCKS = 1 + (int) (WINDOWS[WINDOWS.length - 1] / BLOCK_SECONDS);

  /** A pour onto the bed raises the outflow by at least this, and by this part of it (g/s). */
  private static final double LEAST_RISE = 0.08;

  private static final double RISE_SHARE = 0.05;

  /** Slower is dripping (g/s). */
  private static final double LEAST_OUTFLOW = 0.3;

  /** More than some drops bring (g). */
  private static final double LEAST_GAIN = 0.4;

  /** A rise of the outflow must last so long to be believed (s). */
  private static final double LEAST_SPAN = 0.6;

  /** The newest must show at least so much of the change of the outflow. */
  private static final double STILL_CHANGED = 0.6;

  /** The outflow of a bed that empties falls by at least this, and by this part of it (g/s). */
  private static final double LEAST_FALL = 0.06;

  private static final double FALL_SHARE = 0.04;

  /** So much less has run out than would have (g). */
  private static final double LEAST_LACK = 0.15;

  /** A bed that is poured on, runs out, or is dry. */
  enum Bed {
    DRY,
    FILLING,
    DRAINING
  }

  private final Consumer<PourEvent> announce;
  private final Blocks blocks = new Blocks(BLOCK_SECONDS, BLOCKS);
  private final BendTest test = new BendTest();
  private Bed bed = Bed.DRY;
  private int pours;
  private double bend = Double.NEGATIVE_INFINITY;
  private double startAt;
  private double base;
  private double ranBefore;
  private boolean endSaid;

  Surges(Consumer<PourEvent> announce) {
    this.announce = announce;
  }

  /** What is being done, where the phase of the scale says {@code doing}. */
  Outlook.Doing doing(Outlook.Doing doing) {
    boolean isWater = doing == Outlook.Doing.RESTING || doing == Outlook.Doing.POURING;
    if (!isWater) {
      return doing;
    }
    return switch (bed) {
      case DRY -> Outlook.Doing.RESTING;
      case FILLING -> Outlook.Doing.POURING;
      case DRAINING -> Outlook.Doing.DRAINING;
    };
  }

  /** Pours so far, the running one included. */
  int pours() {
    return pours;
  }

  /** What has run out since the running pour began, 0 when none runs (g). */
  double ranOut(Evidence e) {
    return bed == Bed.FILLING ? ranSince(e) : 0;
  }

  private double ranSince(Evidence e) {
    return e.mass() - base - ranBefore;
  }

  /** A new bin of the signal, of which {@code phase} has heard. */
  void on(Evidence e, Phase phase) {
    // what runs out is counted from there, whatever moves the display
    base = phase instanceof Phase.Pouring running ? running.base() : e.mass();
    boolean isWater =
        phase instanceof Phase.Pouring
            || phase instanceof Phase.Coming
            || phase instanceof Phase.Resting;
    if (!isWater) {
      blocks.clear();
    } else if (blocks.add(e.now(), e.mass(), e.binSeconds())) {
      look(e);
    }
  }

  private void look(Evidence e) {
    double noise = e.noise() / Math.sqrt(blocks.inNewest());
    boolean isFound = false;
    for (int i = 0; i < WINDOWS.length && !isFound; i++) {
      double from = Math.max(bend, e.now() - WINDOWS[i]);
      boolean isUpward = bed != Bed.FILLING;
      if (test.seek(blocks, from, isUpward, noise) && test.score() > e.threshold()) {
        isFound = isUpward ? rises(e, from) : falls(e);
      }
    }
    if (isFound && bed == Bed.FILLING) {
      end(e, test.at() - e.lag());
    } else if (isFound) {
      start(e, test.at());
    }
  }

  private boolean rises(Evidence e, double from) {
    double span = e.now() - test.at();
    double change = test.change();
    double gain = change * span;
    double before = test.before();
    double wander = bed == Bed.DRY ? e.scatter(Math.max(from, test.at() - 2), test.at()) : 0;
    return span > LEAST_SPAN
        && change > Math.max(LEAST_RISE, RISE_SHARE * before)
        && gain > Math.max(LEAST_GAIN, 1.5 * e.resolution())
        && gain > Judgement.LEAST_SIGMAS * Math.max(wander, e.noise())
        && e.fitLine(Math.max(test.at(), e.now() - e.slopeWindow(change)), 3)
        && e.lineSlope() > before + STILL_CHANGED * change
        && e.lineSlope() > LEAST_OUTFLOW
        && e.lineSlope() < Judgement.MOST_FLOW;
  }

  private boolean falls(Evidence e) {
    double held = e.now() - (test.at() - e.lag());
    double change = -test.change();
    double before = test.before();
    double newest = Math.max(LEAST_SPAN, e.slopeWindow(change));
    return held > Judgement.HOLD_SECONDS
        && change > Math.max(LEAST_FALL, FALL_SHARE * before)
        && change * held > Math.max(LEAST_LACK, e.resolution())
        && e.fitLine(Math.max(test.at(), e.now() - newest), 3)
        && e.lineSlope() < before - STILL_CHANGED * change;
  }

  private void start(Evidence e, double at) {
    boolean isSame = bed == Bed.DRAINING && at - e.lag() - bend < Judgement.SAME_POUR_SECONDS;
    bed = Bed.FILLING;
    bend = at;
    if (!isSame) {
      pours++;
      endSaid = false;
      startAt = at;
      ranBefore = e.mass() - base;
      announce.accept(new PourStarted(pours, e.moment(at - e.lag()), e.knownAt()));
    }
  }

  private void end(Evidence e, double when) {
    double at = Math.max(when, startAt - e.lag());
    bed = Bed.DRAINING;
    bend = at;
    if (!endSaid) {
      endSaid = true;
      // most of it still stands on the bed, so its duration tells more than the outflow
      double water = Math.max(ranSince(e), Judgement.USUAL_FLOW * (at - startAt));
      announce.accept(new PourEnded(pours, e.moment(at), e.knownAt(), Evidence.grams(water)));
    }
  }

  /** What the phases of the scale say: of its pour only that it begins and ends to run out. */
  void heard(Evidence e, PourEvent event) {
    if (event instanceof PourStarted started) {
      if (bed == Bed.DRY) {
        start(e, e.seconds(started.at()) + e.lag());
      }
    } else if (event instanceof PourEnded dry) {
      if (bed == Bed.FILLING) {
        end(e, e.seconds(dry.at()));
      }
      bed = Bed.DRY;
      announce.accept(new BedDrained(pours, dry.at(), dry.knownAt(), Basis.MEASURED));
    } else {
      if (event instanceof Discarded) {
        pours = 0;
        bed = Bed.DRY;
      }
      announce.accept(event);
    }
  }
}
