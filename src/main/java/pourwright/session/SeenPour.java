package pourwright.session;

import java.util.Optional;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * A pour as announced live.
 *
 * @param index from 1
 * @param start first water, recording time
 * @param end last water; empty while it runs
 * @param poured final once it has ended, what shows so far until then
 */
public record SeenPour(int index, SessionTime start, Optional<SessionTime> end, Mass poured) {}
