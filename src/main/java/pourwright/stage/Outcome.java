package pourwright.stage;

import java.util.List;
import java.util.Optional;

/** What planning a routine came to. */
public sealed interface Outcome {

  /**
   * A timetable that keeps every rule.
   *
   * @param gap what is not proven; empty when no timetable is better
   */
  record Planned(Timetable timetable, Optional<Gap> gap) implements Outcome {
    public boolean isProvenBest() {
      return gap.isEmpty();
    }
  }

  /**
   * The first wish in which a better timetable was not ruled out.
   *
   * @param found seconds of the timetable found
   * @param bound no timetable has fewer
   */
  record Gap(Wish wish, int found, int bound) {}

  /**
   * No timetable keeps every rule.
   *
   * @param clash rules that cannot all be kept; drop any one of them and the others can be
   * @param isMinimal false when time ran out before every one was shown to be needed
   */
  record Impossible(List<Rule> clash, boolean isMinimal) implements Outcome {
    public Impossible {
      clash = List.copyOf(clash);
    }
  }

  /** Time ran out with neither a timetable nor a proof that there is none. */
  record Undecided() implements Outcome {}
}
