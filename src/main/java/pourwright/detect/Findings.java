package pourwright.detect;

import java.util.List;
import java.util.Optional;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * Everything found in a finished recording: the same events that were announced live, with the best
 * estimates that hindsight allows.
 *
 * @param warnings plain sentences for the brewer
 */
public record Findings(
    Rig rig,
    List<Pour> pours,
    List<Drawdown> drawdowns,
    Optional<Lift> lift,
    List<Disturbance> disturbances,
    List<Gap> gaps,
    List<String> warnings) {

  public Findings {
    pours = List.copyOf(pours);
    drawdowns = List.copyOf(drawdowns);
    disturbances = List.copyOf(disturbances);
    gaps = List.copyOf(gaps);
    warnings = List.copyOf(warnings);
  }

  /** The same with other drawdowns. */
  public Findings withDrawdowns(List<Drawdown> others) {
    return new Findings(rig, pours, others, lift, disturbances, gaps, warnings);
  }

  public Findings withWarnings(List<String> others) {
    return new Findings(rig, pours, drawdowns, lift, disturbances, gaps, others);
  }

  /**
   * One pour.
   *
   * @param index counts from 1
   * @param start first water landed
   * @param end last water landed, or the end of the recording when it was still running
   * @param meanFlow poured mass over its duration
   * @param startAnnounced when the live detector said so; empty when only hindsight found it
   * @param endAnnounced when the live detector said so; empty when it never did
   * @param acrossGap whether readings were missing inside it and it was rebuilt from what was
   *     weighed before and after
   */
  public record Pour(
      int index,
      SessionTime start,
      SessionTime end,
      Mass poured,
      Flow meanFlow,
      Optional<SessionTime> startAnnounced,
      Optional<SessionTime> endAnnounced,
      boolean acrossGap) {}

  /** From the end of a pour until the bed was dry. */
  public record Drawdown(int afterPour, SessionTime start, SessionTime end, Basis basis) {}

  /** The dripper came off; see {@link PourEvent.DripperLifted}. */
  public record Lift(SessionTime time, Mass removed, Optional<Mass> beverage) {}

  /** Readings of one place were missing. */
  public record Gap(Place place, SessionTime start, SessionTime end) {}
}
