package pourwright.simulate;

import java.util.List;
import java.util.Optional;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * What really happened in a simulated run so far, to the physical moment: no lag, no noise.
 *
 * @param drained when the bed ran dry, once per time it did
 * @param lift when the dripper (on the server rig: the server) was off the scale
 * @param mishaps in order of time
 */
public record Truth(
    List<Pour> pours,
    List<Drained> drained,
    Optional<Lift> lift,
    List<Happened> mishaps,
    List<SessionTime> tares) {

  public Truth {
    pours = List.copyOf(pours);
    drained = List.copyOf(drained);
    mishaps = List.copyOf(mishaps);
    tares = List.copyOf(tares);
  }

  /**
   * One pour.
   *
   * @param start first water landed
   * @param end last water landed, single drips aside
   * @param poured what landed in between
   */
  public record Pour(int index, SessionTime start, SessionTime end, Mass poured) {}

  /** The bed ran dry after a pour. */
  public record Drained(int afterPour, SessionTime at) {}

  /**
   * The end of the run.
   *
   * @param removed what the scale lost
   * @param beverage what is in the server
   */
  public record Lift(SessionTime at, Mass removed, Mass beverage) {}

  /** A mishap, from its first to its last touch. */
  public record Happened(Mishap mishap, SessionTime start, SessionTime end) {}
}
