package pourwright.bench;

import java.util.List;
import java.util.Optional;

/** What really happened in a made recording (s, g). */
record Truth(
    List<Pour> pours,
    Optional<Lift> lift,
    List<Mishap> mishaps,
    List<Gap> gaps,
    double endSeconds) {

  /**
   * @param startSeconds first water landed
   * @param endSeconds last water landed, drips aside; the end of the recording where it was cut
   * @param grams what landed between them
   * @param isCut the recording stopped in this pour
   * @param drainedSeconds the bed ran dry before anything else was poured; empty when it did not
   */
  record Pour(
      double startSeconds,
      double endSeconds,
      double grams,
      boolean isCut,
      Optional<Double> drainedSeconds) {}

  /**
   * @param isPlacingSeen the dripper was put on, or tared, within the recording, so what is left in
   *     the server can be known
   */
  record Lift(double seconds, double removedGrams, double beverageGrams, boolean isPlacingSeen) {}

  /** Anything beside water that the scale felt, or a tare. */
  record Mishap(String kind, double startSeconds, double endSeconds) {}

  record Gap(double startSeconds, double endSeconds) {
    boolean holds(double seconds) {
      return seconds > startSeconds - 0.05 && seconds < endSeconds;
    }
  }

  boolean isVeiled(double seconds) {
    return gaps.stream().anyMatch(gap -> gap.holds(seconds));
  }
}
