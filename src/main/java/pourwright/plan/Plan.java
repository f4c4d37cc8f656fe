package pourwright.plan;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import pourwright.rig.Rig;
import pourwright.units.Mass;

/**
 * A recipe as a schedule of pours. Times count from the first water.
 *
 * @param title what the brewer calls it
 * @param dose dry coffee
 * @param water all water of all pours
 * @param waterTemperatureCelsius kettle temperature (°C)
 * @param targetStrengthPercent dissolved solids aimed at (% by mass of the beverage)
 * @param dripper mass of the empty dripper with its filter, to know the beverage on the whole rig
 * @param pours at least one, in order
 * @param talk in order of time
 */
public record Plan(
    String title,
    Mass dose,
    Mass water,
    OptionalDouble waterTemperatureCelsius,
    OptionalDouble targetStrengthPercent,
    Rig rig,
    Optional<Mass> dripper,
    Optional<Mass> server,
    Tolerance tolerance,
    List<PlannedPour> pours,
    List<TalkMark> talk) {

  public Plan {
    pours = List.copyOf(pours);
    talk = List.copyOf(talk);
  }
}
