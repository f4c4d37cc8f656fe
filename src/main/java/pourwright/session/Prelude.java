package pourwright.session;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import pourwright.detect.PourEvent;
import pourwright.units.Mass;

/**
 * Keeps what happens before the run apart from the run. Ground coffee that trickles onto a rig
 * looks like a pour until the rig is tared; so what begins before the lane is armed is held back
 * until either a tare shows that it was part of the setting up, or it is more than any dose. Water
 * that rinsed the paper and was thrown away puts everything back to the beginning.
 */
final class Prelude {
  /** Own choice: a dose and what a hand may add to it. */
  private static final double MORE_THAN_DOSE = 1.5;

  /** Largest usual dose; common practice, no source: 12 to 30 g. */
  private static final Mass LARGEST_DOSE = Mass.ofMilligrams(30_000);

  private final Mass mostGrounds;
  private final List<PourEvent> held = new ArrayList<>();
  private Mass ended = Mass.ZERO;
  private int started;
  private int discarded;
  private boolean isOver;

  Prelude(Optional<Mass> dose) {
    this.mostGrounds = Mass.ofGrams(dose.orElse(LARGEST_DOSE).grams() * MORE_THAN_DOSE);
  }

  /**
   * Takes an event of the detector.
   *
   * @param isArmed whether the lane was armed when it came
   * @return what counts now, in order, its pours numbered from 1
   */
  List<PourEvent> admit(PourEvent event, boolean isArmed) {
    if (event instanceof PourEvent.Discarded) {
      boolean wasOver = isOver;
      held.clear();
      ended = Mass.ZERO;
      started = 0;
      discarded = 0;
      isOver = false;
      return wasOver ? List.of(event) : List.of();
    }
    if (isOver) {
      return index(event) > discarded ? List.of(renumbered(event)) : List.of();
    }
    if (event instanceof PourEvent.PourStarted start) {
      if (isArmed) {
        discard();
      }
      started = start.index();
    } else if (event instanceof PourEvent.PourEnded end) {
      ended = ended.plus(end.poured());
    } else if (event instanceof PourEvent.Tared) {
      discard();
    }
    held.add(event);
    return event instanceof PourEvent.PourStarted && isArmed ? begin() : List.of();
  }

  /**
   * Looks at the scale.
   *
   * @param running water of a pour that runs now
   * @return what counts from now on
   */
  List<PourEvent> look(Mass running) {
    boolean isMuch = ended.plus(running).compareTo(mostGrounds) > 0;
    return !isOver && started > discarded && isMuch ? begin() : List.of();
  }

  private void discard() {
    held.clear();
    ended = Mass.ZERO;
    discarded = started;
  }

  private List<PourEvent> begin() {
    isOver = true;
    List<PourEvent> counts = held.stream().map(this::renumbered).toList();
    held.clear();
    return counts;
  }

  /** Events that belong to no pour always count. */
  private static int index(PourEvent event) {
    if (event instanceof PourEvent.PourStarted start) {
      return start.index();
    }
    if (event instanceof PourEvent.PourEnded end) {
      return end.index();
    }
    if (event instanceof PourEvent.BedDrained bed) {
      return bed.afterPour();
    }
    return Integer.MAX_VALUE;
  }

  private PourEvent renumbered(PourEvent event) {
    if (event instanceof PourEvent.PourStarted start) {
      return new PourEvent.PourStarted(start.index() - discarded, start.at(), start.knownAt());
    }
    if (event instanceof PourEvent.PourEnded end) {
      return new PourEvent.PourEnded(
          end.index() - discarded, end.at(), end.knownAt(), end.poured());
    }
    if (event instanceof PourEvent.BedDrained bed) {
      return new PourEvent.BedDrained(
          bed.afterPour() - discarded, bed.at(), bed.knownAt(), bed.basis());
    }
    return event;
  }
}
