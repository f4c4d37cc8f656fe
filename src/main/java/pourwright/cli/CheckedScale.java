package pourwright.cli;

import java.util.Optional;
import pourwright.device.simulated.SimulatedTest;
import pourwright.session.PlacedScale;

/**
 * A scale that is to be checked.
 *
 * @param hand who does what is asked, where the scale is simulated
 * @param speed of a simulated scale; 0 as fast as it goes
 */
record CheckedScale(PlacedScale placed, Optional<SimulatedTest> hand, double speed) {}
