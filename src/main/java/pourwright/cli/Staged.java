package pourwright.cli;

import java.util.Optional;
import pourwright.stage.Odds;
import pourwright.stage.Outcome;
import pourwright.stage.StageFile;

/**
 * A routine with its timetable.
 *
 * @param marginSeconds that each chore and walk has to spare
 * @param spreadsFrom where the spreads come from, in words
 * @param drainsFrom where the drain times come from, in words
 */
record Staged(
    StageFile file,
    Outcome outcome,
    Optional<Odds> odds,
    int marginSeconds,
    long seed,
    String spreadsFrom,
    String drainsFrom) {}
