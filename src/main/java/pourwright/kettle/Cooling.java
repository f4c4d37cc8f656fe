package pourwright.kettle;

import java.util.List;
import java.util.Optional;
import org.hipparchus.analysis.solvers.BrentSolver;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * One cooling that the brewer watched: fill, note the temperature, wait, note it again.
 *
 * @param mass water in the kettle at first
 * @param fromCelsius at first (°C)
 * @param toCelsius at last (°C), lower
 * @param seconds between (s), positive
 * @param room it stood in
 */
public record Cooling(Mass mass, double fromCelsius, double toCelsius, double seconds, Room room) {
  private static final double MOST_WATTS_PER_KELVIN = 100;
  private static final double ACCURACY = 1e-10;
  private static final int MOST_EVALUATIONS = 100;

  public Cooling {
    if (mass.compareTo(Mass.ZERO) <= 0
        || !(seconds > 0)
        || !(fromCelsius <= 100 && toCelsius < fromCelsius && toCelsius > room.celsius())) {
      throw new IllegalArgumentException(
          "a cooling goes down, from at most 100 °C to something warmer than the room");
    }
  }

  /**
   * The kettle with the convection that this cooling shows.
   *
   * @return empty when evaporation alone would cool it more than that
   */
  public Optional<Kettle> appliedTo(Kettle kettle) {
    if (endOf(kettle.losing(0)) < toCelsius) {
      return Optional.empty();
    }
    return Optional.of(
        kettle.losing(
            new BrentSolver(ACCURACY)
                .solve(
                    MOST_EVALUATIONS,
                    watts -> endOf(kettle.losing(watts)) - toCelsius,
                    0,
                    MOST_WATTS_PER_KELVIN)));
  }

  private double endOf(Kettle kettle) {
    SessionTime end = SessionTime.ofSeconds(seconds);
    return Course.of(kettle, room, new Course.Content(mass, fromCelsius), List.of(), end)
        .at(end)
        .celsius();
  }
}
