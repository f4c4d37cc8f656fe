package pourwright.session;

/**
 * Someone who watches a rehearsal: a screen, a page, a loudspeaker.
 *
 * <p>Every audience is served by a thread of its own, with the newest view only: a slow one misses
 * views in between and never holds up the rehearsal. What must not be missed (pours, cues, notices)
 * is in every view from its moment on, and the last view of a run always comes.
 */
public interface Audience {
  /** The newest state of things; at most about 25 a second. */
  void see(RehearsalView view);

  /** The run is over and judged; comes once, after the last view. */
  default void conclude(Outcome outcome) {}
}
