package pourwright.compare;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * A run held against its plan.
 *
 * <p>The <b>deviation index</b> is the root mean square of the errors in units of tolerance:
 *
 * <pre>
 *   index = √( Σ e² / (3 n) )
 * </pre>
 *
 * <p>with n planned pours and these errors e, each divided by the plan's tolerance of its kind:
 *
 * <ul>
 *   <li>for every planned pour that was made, alone, in pieces or run together with others: its
 *       mass, start and flow error (the start error of the first pour is zero, it starts the
 *       clock);
 *   <li>for every missed pour: all its planned water as a mass error; it has no start and no flow;
 *   <li>for every extra pour: all its water as a mass error.
 * </ul>
 *
 * <p>0 is the plan to the drop, 1 a run that is everywhere just at its tolerances. The divisor is
 * that of the plan, so that runs of one plan can be compared whatever was missed.
 *
 * @param pours one per planned pour in order, extra ones between them where they were made
 * @param shares what each error adds to the square of the index; they sum to 1, or are empty when
 *     there is no error at all
 */
public record Comparison(
    List<JudgedPour> pours, double deviationIndex, List<Share> shares, Alignment alignment) {

  public Comparison {
    pours = List.copyOf(pours);
    shares = List.copyOf(shares);
  }

  /**
   * One line of the comparison.
   *
   * @param planned index of the planned pour, empty for an extra one
   * @param made indices of the found pours, empty for a missed one, several for a split one; pours
   *     that ran together share one
   * @param massError poured minus planned; the whole pour where it was missed (negative) or extra
   *     (positive). The error of pours that ran together is shared out in proportion to their
   *     planned water
   * @param placing the other errors; empty for missed and extra pours
   * @param reasons plain sentences for a verdict that is not {@link Verdict#INSIDE}
   */
  public record JudgedPour(
      OptionalInt planned,
      List<Integer> made,
      Verdict verdict,
      Mass massError,
      Optional<Placing> placing,
      List<String> reasons) {

    public JudgedPour {
      made = List.copyOf(made);
      reasons = List.copyOf(reasons);
    }
  }

  /**
   * How a pour was placed; every error is made minus planned.
   *
   * @param startError positive when late, against the moment the pour was due: by the clock of the
   *     first water; after the gap that follows the real end of the pour before; or when the bed
   *     was drained, where that was measured or modelled, else by the clock
   * @param lengthError positive when it took longer, from first to last water, pauses between
   *     pieces included
   * @param flowError mean flow while water ran against the planned flow
   * @param departure the farthest the poured mass was from the planned line of this pour
   * @param unsteadiness standard deviation over mean of the flow in its steady part; empty when the
   *     curve shows less than three seconds of it
   */
  public record Placing(
      Duration startError,
      Duration lengthError,
      Flow flowError,
      Departure departure,
      OptionalDouble unsteadiness) {}

  /**
   * Poured minus planned mass.
   *
   * @param by positive when more had been poured
   * @param at moment of the recording
   */
  public record Departure(Mass by, SessionTime at) {}

  /** A kind of error that counts in the deviation index. */
  public enum Kind {
    MASS,
    START,
    FLOW
  }

  /**
   * Part of the square of the deviation index.
   *
   * @param line place in {@link Comparison#pours}, from 0
   * @param part from 0 to 1
   */
  public record Share(int line, Kind kind, double part) {}
}
