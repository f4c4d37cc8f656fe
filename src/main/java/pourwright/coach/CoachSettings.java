package pourwright.coach;

/**
 * How the coach speaks.
 *
 * @param fadedRun how many runs have been made under fading feedback before this one, from 0
 * @param reactionSeconds from a cue to the hand that acts on it (s)
 * @param getReadySeconds how long before a pour the brewer is told (s)
 * @param easeOffSeconds how long before the stop the brewer is told that it nears (s)
 */
public record CoachSettings(
    Feedback feedback,
    int fadedRun,
    double reactionSeconds,
    double getReadySeconds,
    double easeOffSeconds) {

  /**
   * Simple reaction to a sound, 0.186 s (Nihon Jibiinkoka 93:746, 1990, abstract), and 0.05 s for
   * the sound to leave the machine (ours, no source).
   */
  public static final double REACTION_SECONDS = 0.236;

  private static final double GET_READY_SECONDS = 5;
  private static final double EASE_OFF_SECONDS = 1.5;

  /** The usual times, no source but our own rehearsals on the simulated rig. */
  public static CoachSettings of(Feedback feedback, int fadedRun) {
    return new CoachSettings(
        feedback, fadedRun, REACTION_SECONDS, GET_READY_SECONDS, EASE_OFF_SECONDS);
  }
}
