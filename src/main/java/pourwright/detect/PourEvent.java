package pourwright.detect;

import java.util.Optional;
import pourwright.rig.Place;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * Something that happened on the rig, announced as soon as it was certain enough.
 *
 * <p>{@link #at} is when it happened as far as was known then, {@link #knownAt} the time of the
 * reading that settled it. An announcement is never taken back or changed; better estimates come
 * with the {@link Findings} of the finished recording.
 */
public sealed interface PourEvent {
  SessionTime at();

  SessionTime knownAt();

  /**
   * First water landed.
   *
   * @param index counts the pours of the brew from 1
   */
  record PourStarted(int index, SessionTime at, SessionTime knownAt) implements PourEvent {}

  /**
   * Last water landed.
   *
   * @param poured all water of this pour; where only the server is weighed a rough guess from its
   *     duration, as most of it still stands on the bed
   */
  record PourEnded(int index, SessionTime at, SessionTime knownAt, Mass poured)
      implements PourEvent {}

  /** The bed has run dry, or is only known to have done so by {@code at}. */
  record BedDrained(int afterPour, SessionTime at, SessionTime knownAt, Basis basis)
      implements PourEvent {}

  /**
   * The dripper was taken off the server, or the server from under the dripper.
   *
   * @param removed what the scale lost, positive
   * @param beverage what is left in the server, where that can be known
   */
  record DripperLifted(SessionTime at, SessionTime knownAt, Mass removed, Optional<Mass> beverage)
      implements PourEvent {}

  /**
   * The scale's zero was moved.
   *
   * @param taken what it no longer shows, positive when the display fell
   */
  record Tared(Place place, SessionTime at, SessionTime knownAt, Mass taken) implements PourEvent {}

  /**
   * The weight was not that of the rig alone.
   *
   * @param until when it was itself again
   */
  record Disturbed(SessionTime at, SessionTime until, SessionTime knownAt, Disturbance.Kind kind)
      implements PourEvent {}

  /**
   * What seemed to be poured until {@code at} was no brew: water that rinsed the paper and was
   * thrown away, or ground coffee. The pours that follow are counted from 1 again.
   *
   * @param at from then on the brew may begin
   */
  record Discarded(SessionTime at, SessionTime knownAt) implements PourEvent {}

  /** Readings were missing from {@code at} until {@code knownAt}. */
  record ReadingsMissed(Place place, SessionTime at, SessionTime knownAt) implements PourEvent {}
}
