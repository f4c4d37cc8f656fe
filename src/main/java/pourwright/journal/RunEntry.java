package pourwright.journal;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import pourwright.coach.Feedback;
import pourwright.rig.Rig;

/**
 * One line of the journal: what one brewer did in one rehearsal.
 *
 * @param startedAt what the clock of the computer said then
 * @param title of the plan; empty for a free run
 * @param length from the first to the last moment heard; zero while it is being recorded
 * @param pours how many were found
 * @param planned how many were planned; empty without a plan
 * @param inside how many of the planned ones were inside every tolerance; empty without a plan
 * @param deviationIndex see {@link pourwright.compare.Comparison}; empty without a plan
 * @param strengthPercent mean of the strength readings (% by mass of the beverage)
 * @param isTasted whether there is a tasting
 * @param note may be empty
 */
public record RunEntry(
    long id,
    Instant startedAt,
    String brewer,
    Optional<String> title,
    Rig rig,
    Feedback feedback,
    boolean isSimulated,
    boolean isVoid,
    boolean isDeleted,
    State state,
    Duration length,
    int pours,
    OptionalInt planned,
    OptionalInt inside,
    OptionalDouble deviationIndex,
    OptionalDouble strengthPercent,
    boolean isTasted,
    String note) {

  /** What became of the recording. */
  public enum State {
    /** It goes on now, or the program that recorded it died and nobody has looked since. */
    RECORDING,
    /** The program or the power died; what was kept until then has been judged. */
    CUT_SHORT,
    /** The dripper was lifted. */
    LIFTED,
    /** The brewer ended it. */
    STOPPED,
    /** The recording that was played, or imported, had no more. */
    SOURCE_ENDED,
    /** Nothing happened for a long time. */
    IDLE;

    /** As kept in files. */
    public String word() {
      return name().toLowerCase(Locale.ROOT);
    }

    public static Optional<State> findByWord(String word) {
      return List.of(values()).stream().filter(state -> state.word().equals(word)).findFirst();
    }
  }
}
