package pourwright.detect;

import java.util.OptionalDouble;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;
import pourwright.rig.Place;

/** Follows one scale: its signal, its present phase, and the one place where phases change. */
final class Watch {
  /** A link that pauses shorter has held readings up, not lost them (s); own choice. */
  private static final double LEAST_GAP = 1.2;

  /** Periods of a slow scale that make a gap. */
  private static final double GAP_PERIODS = 5;

  private final Place place;
  private final DetectorSettings settings;
  private final OptionalDouble lag;
  private final Consumer<PourEvent> announce;
  private final Signal signal;
  private final LagEstimate lagEstimate = new LagEstimate();
  private final StoppingHabit habit = new StoppingHabit();
  private final @Nullable Surges surges;
  private @Nullable Evidence evidence;
  private Phase phase = new Phase.Resting(Ledger.EMPTY, Double.NEGATIVE_INFINITY, 0);
  private long baseNanos;
  private long baseNanograms;
  private double lastSeen;
  private boolean silent;
  private boolean torn;

  /**
   * @param surges tell the pours where only what runs out of the bed is weighed
   */
  Watch(
      Place place,
      DetectorSettings settings,
      Consumer<PourEvent> announce,
      @Nullable Surges surges) {
    this.place = place;
    this.settings = settings;
    this.signal = new Signal(settings.noiseGrams(place).orElse(0));
    this.lag = settings.lagSeconds(place);
    this.announce = announce;
    this.surges = surges;
  }

  void weigh(long atNanos, long nanograms) {
    Evidence e = evidence;
    if (e == null) {
      baseNanos = atNanos;
      baseNanograms = nanograms;
      e = new Evidence(signal, settings, lag, lagEstimate, baseNanos, baseNanograms);
      evidence = e;
    }
    double at = (atNanos - baseNanos) * 1e-9;
    double gap = Math.max(LEAST_GAP, GAP_PERIODS * signal.period());
    boolean missed = signal.size() > 0 && (torn || at - lastSeen > gap);
    silent = false;
    torn = false;
    double before = lastSeen;
    lastSeen = at;
    if (missed) {
      Phase now = phase;
      signal.tear();
      take(e, now.afterGap(e, before, at));
      announce.accept(new PourEvent.ReadingsMissed(place, e.moment(before), e.moment(at)));
    }
    if (signal.add(at, (nanograms - baseNanograms) * 1e-9, nanograms * 1e-9)) {
      Step step = phase.on(e);
      if (step != null) {
        take(e, step);
      }
      if (surges != null) {
        surges.on(e, phase);
      }
      signal.during(phase.doing());
    }
  }

  private void take(Evidence e, Step step) {
    phase = step.next();
    for (PourEvent event : step.events()) {
      learn(e, event);
      PourEvent placed = event instanceof PourEvent.Tared tared ? here(tared) : event;
      if (surges != null) {
        surges.heard(e, placed);
      } else {
        announce.accept(placed);
      }
    }
  }

  private void learn(Evidence e, PourEvent event) {
    if (event instanceof PourEvent.Disturbed moved
        && (moved.kind() == Disturbance.Kind.OBJECT_PLACED
            || moved.kind() == Disturbance.Kind.OBJECT_REMOVED)
        && phase.doing() == Outlook.Doing.RESTING) {
      lagEstimate.see(signal, e.seconds(moved.at()), e.seconds(moved.until()));
    } else if (event instanceof PourEvent.PourEnded ended && e.isStop(ended.at())) {
      double lag = e.knowsLag() ? e.lag() : Forecast.USUAL_LAG_SECONDS;
      habit.see(signal, e.seconds(ended.at()), e.stopSlope(), lag);
    }
  }

  StoppingHabit habit() {
    return habit;
  }

  private PourEvent.Tared here(PourEvent.Tared tared) {
    return new PourEvent.Tared(place, tared.at(), tared.knownAt(), tared.taken());
  }

  void silence() {
    silent = true;
  }

  void lost() {
    silent = true;
    torn = true;
  }

  boolean isSilent() {
    return silent;
  }

  @Nullable Surges surges() {
    return surges;
  }

  Phase phase() {
    return phase;
  }

  Signal signal() {
    return signal;
  }

  @Nullable Evidence evidence() {
    return evidence;
  }
}
