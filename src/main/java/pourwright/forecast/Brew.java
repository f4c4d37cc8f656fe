package pourwright.forecast;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import pourwright.bed.Bed;
import pourwright.bed.Drainage;
import pourwright.bed.Permeability;
import pourwright.bed.Poured;
import pourwright.plan.PlannedPour;
import pourwright.plan.Start;
import pourwright.units.SessionTime;
import pourwright.water.Water;

/**
 * A plan poured without a fault into one bed: pours that wait for the bed start when it has
 * drained, all others by their rule.
 *
 * @param pours as they come
 * @param drained moment of each pour; empty where the next comes first
 * @param levels course of the slurry
 */
record Brew(List<Poured> pours, List<Optional<SessionTime>> drained, List<Drainage.Level> levels) {

  /** Longest that a brewer waits for a bed (s); own choice. */
  private static final double PATIENCE_SECONDS = 900;

  static Brew of(List<PlannedPour> planned, Bed bed, Permeability permeability, Water water) {
    List<Poured> pours = new ArrayList<>();
    Drainage drainage = Drainage.empty(bed, water);
    SessionTime start = SessionTime.ZERO;
    for (int i = 0; i < planned.size(); i++) {
      PlannedPour pour = planned.get(i);
      if (i == 0 && pour.start() instanceof Start.AtClock clock) {
        start = clock.at();
      }
      Poured poured = new Poured(start, start.plus(pour.length()), pour.add());
      pours.add(poured);
      SessionTime patience = poured.end().plusSeconds(PATIENCE_SECONDS);
      boolean isLast = i + 1 == planned.size();
      SessionTime until =
          isLast ? patience : byRule(planned.get(i + 1).start(), poured.end()).orElse(patience);
      drainage.step(poured, permeability.squareMetres(i + 1), until);
      start = drainage.listDrained().get(i).filter(dry -> until.equals(patience)).orElse(until);
    }
    return new Brew(pours, drainage.listDrained(), drainage.listLevels());
  }

  /** When a pour starts; empty when it waits for the bed. */
  private static Optional<SessionTime> byRule(Start rule, SessionTime previousEnd) {
    if (rule instanceof Start.AtClock clock) {
      // a clock time that an overlong wait has passed is poured as soon as the hand is free
      return Optional.of(clock.at().isBefore(previousEnd) ? previousEnd : clock.at());
    }
    return rule instanceof Start.AfterEnd after
        ? Optional.of(previousEnd.plus(after.gap()))
        : Optional.empty();
  }

  /** When the last water has gone. */
  SessionTime end() {
    return drained.get(drained.size() - 1).orElse(pours.get(pours.size() - 1).end());
  }
}
